#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

bool stands_at(const OrderPlan& plan, std::size_t step) {
  return plan.priced && plan.grouping.of_step[step] < 0 && plan.standing.pose_of_step[step] == planner::Pose::standing;
}

}  // namespace dryfit::cli
