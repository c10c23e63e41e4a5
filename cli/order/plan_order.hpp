#pragma once
/// Plans the best order with all that is said about it.
#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

/// Plans a buildable frame of which `known` is an order. The first round has the usual budget, whatever it takes; with
/// `seconds` ever larger ones follow until there is a proof or the time is up.
[[nodiscard]] OrderPlan plan_order(const model::Frame& frame, const planner::ContactList& list, planner::Order known,
                                   const OrderOptions& options);

}  // namespace dryfit::cli
