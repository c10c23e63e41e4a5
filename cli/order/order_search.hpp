#pragma once
/// The search for the best order as the command line asks for it: in rounds, until a proof, a limit or Ctrl-C ends it.
#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

/// Fills `best`, `end`, `seconds` and `moves` of the plan. The first round has the usual budget, so that the same input
/// gives the same bytes; with `options.seconds` each further one has twice the budget of the one before.
void search_best(OrderPlan& plan, const model::Frame& frame, const planner::ContactList& list,
                 const OrderOptions& options);

}  // namespace dryfit::cli
