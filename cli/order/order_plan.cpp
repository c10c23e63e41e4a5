#include "cli/order/order_plan.hpp"

#include <algorithm>

namespace dryfit::cli {

bool stands_at(const OrderPlan& plan, std::size_t step) {
  return plan.priced && plan.grouping.of_step[step] < 0 && plan.standing.pose_of_step[step] == planner::Pose::standing;
}

bool stands_alone(const OrderPlan& plan, std::size_t step) {
  const std::vector<int>& propped = plan.standing.propped;
  return !plan.priced || !std::binary_search(propped.begin(), propped.end(), plan.best.order.steps[step].number);
}

std::vector<model::Attitude> lies_at_steps(const OrderPlan& plan) {
  std::vector<model::Attitude> out;
  if (!plan.priced) return out;
  for (const planner::Pose pose : plan.standing.pose_of_step) out.push_back(plan.lies.of(pose));
  return out;
}

}  // namespace dryfit::cli
