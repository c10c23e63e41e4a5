#pragma once
/// What a builder should know about a frame beside the verdict.
#include <string>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::cli {

/// Whole sentences: a frame fastened between two facing surfaces (somebody has to get it in there). Empty when there is
/// nothing to say. O(parts + contacts).
[[nodiscard]] std::vector<std::string> notes_on(const model::Frame& frame, const planner::ContactList& list);

/// What is wrong with a board of planner::without_rest, in a sentence.
[[nodiscard]] std::string no_rest_note(const model::Frame& frame, model::PartId board);

}  // namespace dryfit::cli
