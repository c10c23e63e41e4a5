#pragma once
/// An order with better places to stop at than the easiest one has, at little more work.
#include "planner/best/best_answer.hpp"

namespace dryfit::planner {

struct StopOrder {
  BestOrder best;           ///< as it was given where no order that was compared has better places
  double more = 0.0;        ///< effort beyond that of the order given
  long long compared = 0;   ///< orders
};

/// What is better: more of `count` safe stops, then fewer pieces and loose boards lying about at them (Stops::best), then
/// less effort. Orders are compared that differ from the one given, and from the better ones found, by some steps made
/// later or earlier: those of a piece or a loose board that would lie about, those that join or hold it, and single
/// steps. It is a local search: of orders that it does not reach it claims nothing. An order counts that costs a
/// twentieth more at most, goes no more against what is wanted, and whose longest stretch between stops is within what
/// Stops::best allows evenly placed stops, or no longer than that of the order given. Legal by the undoer; to be judged
/// by replay. `best` must have been priced. At most 400 orders, O(moves) undo moves asked for each.
[[nodiscard]] StopOrder order_for_stops(const model::Frame& frame, const ContactList& list, const BestOrder& best,
                                        int count, const BestOptions& options);

}  // namespace dryfit::planner
