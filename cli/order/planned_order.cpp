#include "cli/order/planned_order.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "cli/input/given_steps.hpp"
#include "cli/order/plan_order.hpp"
#include "planner/judge/replay.hpp"

namespace dryfit::cli {

PlannedOrder planned_order(const LoadedFrame& loaded, const OrderOptions& options) {
  PlannedOrder out;
  out.finding = find_out(loaded.frame, loaded.contacts);
  if (out.finding.verdict != Verdict::buildable) return out;
  out.plan = plan_order(loaded.frame, loaded.contacts, std::move(out.finding.order), options);
  out.finding.order = out.plan.best.order;
  // No order leaves the program unless a judge that had no part in finding it agrees.
  const auto judged = planner::replay(loaded.frame, loaded.contacts, as_given(out.finding.order.steps));
  if (!judged.legal) {
    throw std::logic_error(fmt::format("the order that was found did not pass the check at step {}: {}",
                                       judged.first_bad_step, judged.why));
  }
  return out;
}

}  // namespace dryfit::cli
