#pragma once
/// The best order of a frame with everything that goes with it, for commands that print or draw it.
#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

struct PlannedOrder {
  Finding finding;  ///< its order is the plan's
  OrderPlan plan;   ///< empty when the frame is not buildable
};

/// As `order` finds it. A step that the judge refuses is struck out and the search goes on without it, so that every
/// order that leaves here has passed; where nothing is left, the frame is locked.
[[nodiscard]] PlannedOrder planned_order(const LoadedFrame& loaded, const OrderOptions& options);

}  // namespace dryfit::cli
