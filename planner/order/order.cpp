#include "planner/order/order.hpp"

#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {

Order find_order(const model::Frame& frame, const ContactList& list) {
  Undoer undoer(frame, list);
  State state(list);
  Peeling peeling = peel(undoer, state);
  Order order;
  order.buildable = peeling.remaining.empty();
  order.knot = std::move(peeling.remaining);
  order.knot_refusals = std::move(peeling.refusals);
  const Work work = undoer.work();
  order.stats.moves_tried = work.attempts;
  order.stats.clearance_tests = work.clearance_tests;
  order.stats.parts_visited = work.visited;
  if (order.buildable) order.steps = steps_of(frame, list, peeling.moves);
  return order;
}

}  // namespace dryfit::planner
