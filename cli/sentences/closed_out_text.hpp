#pragma once
/// Why something can no longer be put on, in mechanical words that hold for this very frame.
#include <string>
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::cli {

/// One or two clauses without a full stop, made from the refused ways to undo the contact: "S1 has holes for B1 and B2;
/// C1 and D1 are wider than the hole for B1 (1-7/16 in against 1-1/8 in)", "turning P7 in T2 would swing 38 in of T3
/// through P9". Ways that are refused for the same reason are said once.
[[nodiscard]] std::string closed_out_text(const model::Frame& frame, const planner::ContactList& list,
                                          planner::ContactId stuck, const std::vector<planner::Refusal>& refusals);

/// "C4 on A3", "S1 on P3", "the nut of U1", "FL to the floor": a contact in words.
[[nodiscard]] std::string contact_text(const model::Frame& frame, const planner::ContactList& list,
                                       planner::ContactId contact);
/// The same for several, at most `most` of them.
[[nodiscard]] std::string contacts_text(const model::Frame& frame, const planner::ContactList& list,
                                        const std::vector<planner::ContactId>& contacts, std::size_t most = 8);

}  // namespace dryfit::cli
