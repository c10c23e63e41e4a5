#pragma once
/// What is said about an order besides its steps, as JSON.
#include "cli/json/json_answer.hpp"
#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

/// Adds `effort`, `pieces`, `turnings`, `ways_in`, `before`, `after` to the document, and `piece`, `pose`, `propped`,
/// `level_first`, `one_person_limit_kg` (and `why` with explain) to its steps.
void add_plan(Json& document, const model::Frame& frame, const planner::ContactList& list, const OrderPlan& plan);

}  // namespace dryfit::cli
