#include "cli/order/plan_order.hpp"

#include <utility>

#include "cli/order/order_search.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// Frames of more contacts than this are not priced: that looks at whole pieces for every step.
constexpr std::size_t kMostPriced = 2'000;

/// Screwing to the room lifts nothing: what is screwed stands or hangs there already. Of two pieces that screws join
/// the lighter is lifted.
std::vector<Lift> lifts_of(const planner::ContactList& list, const planner::Effort& effort,
                           const std::vector<planner::Step>& steps) {
  std::vector<Lift> lifts;
  std::vector<char> made(list.contacts.size(), 0);
  for (const planner::Step& step : steps) {
    const planner::Contact& first = list.contact(step.contacts.front());
    std::vector<model::PartId> lifted = step.moving;
    double mass = step.moving_mass;
    if (step.action == planner::Action::fasten) {
      mass = 0.0;
      const planner::State before(list, made);
      if (first.b != model::kRoom && before.cluster(first.a) != before.cluster(first.b)) {
        std::vector<model::PartId> sides[2];
        for (model::PartId p = 0; p < list.room(); ++p) {
          if (before.cluster(p) == before.cluster(first.a)) sides[0].push_back(p);
          if (before.cluster(p) == before.cluster(first.b)) sides[1].push_back(p);
        }
        const bool bare[2] = {sides[0].size() == 1, sides[1].size() == 1};
        const bool second = bare[0] != bare[1] ? bare[1] : effort.mass_of(sides[1]) < effort.mass_of(sides[0]);
        lifted = sides[second ? 1 : 0];
        mass = effort.mass_of(lifted);
      }
    }
    lifts.push_back({mass, effort.lifting_limit(lifted)});
    for (const planner::ContactId c : step.contacts) made[at(c)] = 1;
  }
  return lifts;
}

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

}  // namespace

OrderPlan plan_order(const model::Frame& frame, const planner::ContactList& list, planner::Order known,
                     const OrderOptions& options) {
  OrderPlan plan;
  plan.chores = planner::preparation_of(frame);
  plan.people = options.people;
  plan.pose = options.pose;
  if (list.contacts.size() > kMostPriced) {
    const planner::Undoer undoer(frame, list);
    plan.best.greedy = true;
    plan.priced = false;
    plan.best.effort.base = plan.best.effort.lower_bound = planner::Effort(undoer, options.people).base();
    plan.best.order = std::move(known);
    return plan;
  }
  search_best(plan, frame, list, options);
  const planner::Undoer undoer(frame, list);
  const planner::Effort effort(undoer, options.people);
  plan.grouping = planner::subassemblies_of(frame, list, plan.best.order.steps);
  plan.standing = planner::standing_of(frame, list, effort, plan.best);
  plan.lifts = lifts_of(list, effort, plan.best.order.steps);
  for (const planner::Step& step : plan.best.order.steps) {
    const planner::Contact& first = list.contact(step.contacts.front());
    if (step.action != planner::Action::fasten || first.b != model::kRoom) continue;
    plan.first_to_room = step.number;
    break;
  }
  plan.level_before = levelled_before(frame, list, plan.best.order.steps);
  if (options.explain) plan.why = planner::why_now(frame, list, plan.best);
  return plan;
}

}  // namespace dryfit::cli
