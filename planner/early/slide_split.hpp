#pragma once
/// Whether a move parts what could slide as one.
#include <vector>

#include "planner/state/state.hpp"

namespace dryfit::planner {

/// Once the contacts are undone, two pieces that hung together along some direction of holes, or of slots' open sides,
/// are apart and both have holes or slots along it: what one move would have taken may then take two.
/// O(contacts * directions).
[[nodiscard]] bool parts_a_slide(const model::Frame& frame, const State& state, const std::vector<ContactId>& undone);

}  // namespace dryfit::planner
