#pragma once
/// A frame as facts for tests/rules/legality.lp: contacts, axes, who hits whom in a turn or slide, how far boards go.
/// Only pairs of bodies are judged here, by the model's geometry; what a move is and when it is legal stands in the
/// rules alone.
#include <string>

#include "planner/state/contacts.hpp"

namespace dryfit::test {

/// O(contacts * parts^2): for small frames.
[[nodiscard]] std::string frame_facts(const model::Frame& frame, const planner::ContactList& list);

}  // namespace dryfit::test
