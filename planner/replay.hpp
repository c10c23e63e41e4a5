#pragma once
/// The independent judge of an order: replays it backwards by the plain text of the rules. Shares nothing with
/// the search but the model and the contact list.
#include <string>
#include <vector>

#include "planner/order.hpp"

namespace dryfit::planner {

/// A step as somebody wrote it: only action and contacts are needed.
struct GivenStep {
  Action action = Action::screw;
  std::vector<ContactId> contacts;
  std::vector<PartId> moving;   ///< empty: any side that can
};

struct ReplayResult {
  bool legal = false;
  int first_bad_step = 0;       ///< number from 1; 0 when legal
  std::string why;              ///< for people
};

/// True when every contact is made exactly once and each step, undone from the last to the first, is a legal undo
/// move or a chain of them. O(steps * contacts).
[[nodiscard]] ReplayResult replay(const model::Frame& frame, const ContactList& list,
                                  const std::vector<GivenStep>& steps);

}  // namespace dryfit::planner
