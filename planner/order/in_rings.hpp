#pragma once
/// What an order does with rings and what goes through them, whoever made the order.
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// A step after which a part goes through a closed ring that nothing joins it with: closing the ring, or making up the
/// part's second end in it.
struct InRing {
  int step = 0;
  std::vector<PartId> ring;  ///< its pipes, ascending
  PartId through = model::kNone;
  bool closes = false;  ///< the step closes the ring round the part; false: it makes up the part in the ring
  int until = 0;        ///< number of the step that joins the two; 0: none does
};

/// In the order of the steps; empty for nearly all frames. `steps`: what each step of a whole order makes, the first
/// one first; they are numbered from 1. A step says what is made and not where, so none of these is impossible: at the
/// latest step that makes a ring of one or the other, the two can still be put through each other, and from then on
/// they cannot. O(steps) for each part that goes through a ring, and what Links takes.
[[nodiscard]] std::vector<InRing> rings_in_order(const model::Frame& frame, const ContactList& list,
                                                 const std::vector<std::vector<ContactId>>& steps);

}  // namespace dryfit::planner
