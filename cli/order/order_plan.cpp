#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

bool stands_at(const OrderPlan& plan, std::size_t step) {
  return plan.priced && plan.grouping.of_step[step] < 0 && plan.standing.pose_of_step[step] == planner::Pose::standing;
}

std::vector<model::Attitude> lies_at_steps(const OrderPlan& plan) {
  std::vector<model::Attitude> out;
  if (!plan.priced) return out;
  for (const planner::Pose pose : plan.standing.pose_of_step) out.push_back(plan.lies.of(pose));
  return out;
}

}  // namespace dryfit::cli
