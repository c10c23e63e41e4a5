#pragma once
/// Whether a move parts what could slide as one.
#include <vector>

#include "planner/state/state.hpp"

namespace dryfit::planner {

/// Once the contacts are undone, two pieces that hung together along some direction of holes are apart and both have
/// holes or notches along it: what one slide would have taken may then take two. O(contacts * directions of holes).
[[nodiscard]] bool parts_a_slide(const State& state, const std::vector<ContactId>& undone);

}  // namespace dryfit::planner
