#pragma once
/// Why something cannot be undone, in mechanical words that hold for this very frame.
#include <string>
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::cli {

/// One sentence without a full stop, said of a contact: "its two sides hang together another way round, over
/// P7/T2.left", "P3 with T2 on it cannot turn: it would hit P7".
[[nodiscard]] std::string refusal_text(const model::Frame& frame, const planner::ContactList& list,
                                       const planner::Refusal& refusal);

/// All refusals of one contact, each sentence once, in the order given.
[[nodiscard]] std::vector<std::string> refusal_texts(const model::Frame& frame, const planner::ContactList& list,
                                                     const std::vector<planner::Refusal>& refusals);

}  // namespace dryfit::cli
