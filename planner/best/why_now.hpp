#pragma once
/// Why each step of the best order stands where it stands.
#include <vector>

#include "planner/best/best_order.hpp"

namespace dryfit::planner {

struct WhyNow {
  /// Number of the step after which this one could not be made any more; 0: it could come at the very end.
  int shut_out_by = 0;
  /// Boards that take two people or more and go on after it, for it screws what carries them to the room; or those that
  /// it puts on when all that is done. Ascending.
  std::vector<PartId> heavy;
  /// What the step costs beyond what every order pays for it.
  Extra extra;
  double awkward = 0.0;  ///< for the pose that the work is in
  double prop = 0.0;     ///< for what does not stand by itself
  /// The search had to choose at this place, what the runner-up would have cost more at least, and which contacts it
  /// makes.
  bool weighed = false;
  double runner_up = 0.0;
  std::vector<ContactId> instead;
};

/// One per step. What can be undone from what is made later can be undone from what is made earlier, so the step that
/// shuts another one out is found by halving: O(steps * log steps) attempts.
[[nodiscard]] std::vector<WhyNow> why_now(const model::Frame& frame, const ContactList& list, const Effort& effort,
                                          const BestOrder& best);

}  // namespace dryfit::planner
