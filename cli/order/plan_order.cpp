#include "cli/order/plan_order.hpp"

#include <utility>

#include "cli/order/order_search.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"
#include "planner/now/stop_order.hpp"

namespace dryfit::cli {
namespace {

/// Frames of more contacts than this are not priced: that looks at whole pieces for every step.
constexpr std::size_t kMostPriced = 2'000;

/// Screws and straps fix what is level or not: the first step to the room, and the first strap that comes later
/// (common practice, no source).
std::vector<int> levelled_before(const model::Frame& frame, const planner::ContactList& list,
                                 const std::vector<planner::Step>& steps) {
  std::vector<int> numbers;
  bool strapped = false;
  for (const planner::Step& step : steps) {
    const planner::Contact& first = list.contact(step.contacts.front());
    if (step.action != planner::Action::fasten) continue;
    const bool strap = frame.fastenings[at(first.fastening)].kind == model::Fastening::Kind::strap;
    if (strap ? strapped : (first.b != model::kRoom || !numbers.empty())) continue;
    strapped = strapped || strap;
    numbers.push_back(step.number);
  }
  return numbers;
}

void arrange_for_stops(OrderPlan& plan, const model::Frame& frame, const planner::ContactList& list,
                       const OrderOptions& options) {
  if (plan.best.greedy) return;
  const LongWork work(options.working, marked("comparing places to stop at"), marked("orders"), true);
  planner::BestOptions asked;
  asked.people = options.people;
  asked.pose = options.pose;
  asked.foreman = options.working;
  planner::StopOrder found = planner::order_for_stops(frame, list, plan.best, options.stops, asked);
  plan.best = std::move(found.best);
  plan.more_for_stops = found.more;
}

}  // namespace

OrderPlan plan_order(const model::Frame& frame, const planner::ContactList& list, planner::Order known,
                     const OrderOptions& options) {
  OrderPlan plan;
  plan.people = options.people;
  plan.pose = options.pose;
  if (list.contacts.size() > kMostPriced) {
    const planner::Undoer undoer(frame, list);
    plan.best.greedy = true;
    plan.priced = false;
    plan.best.effort.base = plan.best.effort.lower_bound = planner::Effort(undoer, options.people).base();
    plan.best.order = std::move(known);
    plan.chores = planner::preparation_of(frame, list, plan.best.order.steps);
    return plan;
  }
  search_best(plan, frame, list, options);
  if (options.stops > 0) arrange_for_stops(plan, frame, list, options);
  plan.chores = planner::preparation_of(frame, list, plan.best.order.steps);
  const planner::Undoer undoer(frame, list);
  const planner::Effort effort(undoer, options.people);
  plan.grouping = planner::subassemblies_of(frame, list, plan.best.order.steps);
  plan.standing = planner::standing_of(frame, list, effort, plan.best);
  plan.lies = planner::attitudes_of(frame, plan.best.order.steps, plan.standing.pose_of_step,
                                    planner::effort_rates().in_one_hand);
  plan.level_before = levelled_before(frame, list, plan.best.order.steps);
  if (options.explain) plan.why = planner::why_now(frame, list, effort, plan.best);
  return plan;
}

}  // namespace dryfit::cli
