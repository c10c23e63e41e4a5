#pragma once
/// Why something can no longer be put on, in mechanical words that hold for this very frame.
#include <string>
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::cli {

/// One or two clauses without a full stop, made from the refused ways to undo the contact: "C1 and D1
/// don't go through the holes for B1 and B2 in S1 (1-7/16 in wide, the hole is 1-1/8 in)", "P7 can't be turned in T2:
/// T3 on it swings at 38 in radius and hits P9". Ways that are refused for the same reason are said once.
[[nodiscard]] std::string closed_out_text(const model::Frame& frame, const planner::ContactList& list,
                                          planner::ContactId stuck, const std::vector<planner::Refusal>& refusals);

/// "A3 into C4", "S1 over P3", "the nut of U1", "FL screwed to the floor": a contact in words.
[[nodiscard]] std::string contact_text(const model::Frame& frame, const planner::ContactList& list,
                                       planner::ContactId contact);
/// The same for several, at most `most` of them.
[[nodiscard]] std::string contacts_text(const model::Frame& frame, const planner::ContactList& list,
                                        const std::vector<planner::ContactId>& contacts, std::size_t most = 8);
/// What is undone: "A3 from C4", "S1 from P3", "FL from the floor".
[[nodiscard]] std::string undone_text(const model::Frame& frame, const planner::ContactList& list,
                                      planner::ContactId contact);
/// The same for several moves, one after the other: what one of them undoes at once is told once, "S from P3 and P8".
/// Of their contacts only those in `told` (any order) are. At most `most` moves are told.
[[nodiscard]] std::string undone_texts(const model::Frame& frame, const planner::ContactList& list,
                                       const std::vector<planner::Move>& moves,
                                       const std::vector<planner::ContactId>& told, std::size_t most = 8);

}  // namespace dryfit::cli
