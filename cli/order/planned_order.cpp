#include "cli/order/planned_order.hpp"

#include <algorithm>

#include "cli/check/as_built.hpp"
#include "cli/input/given_steps.hpp"
#include "cli/order/plan_order.hpp"
#include "planner/judge/replay.hpp"

namespace dryfit::cli {
namespace {

/// The step that the judge refused, with all that was made by then.
planner::StruckOut struck_out(const std::vector<planner::Step>& steps, int number) {
  planner::StruckOut struck;
  const auto bad = static_cast<std::size_t>(number - 1);
  for (std::size_t i = 0; i <= bad; ++i) {
    struck.made.insert(struck.made.end(), steps[i].contacts.begin(), steps[i].contacts.end());
  }
  struck.contacts = steps[bad].contacts;
  struck.moving = steps[bad].moving;
  std::sort(struck.made.begin(), struck.made.end());
  std::sort(struck.contacts.begin(), struck.contacts.end());
  return struck;
}

/// Adds to what is struck out; what is there already and did not help is struck out more widely: whatever moves, then
/// whatever is made.
void strike(std::vector<planner::StruckOut>& all, planner::StruckOut struck) {
  const auto known = [&] {
    return std::any_of(all.begin(), all.end(), [&](const planner::StruckOut& other) {
      return other.contacts == struck.contacts && other.moving == struck.moving && other.made == struck.made;
    });
  };
  if (known()) struck.moving.clear();
  if (known()) struck.made.clear();
  all.push_back(std::move(struck));
}

}  // namespace

PlannedOrder planned_order(const LoadedFrame& loaded, const OrderOptions& options) {
  planner::ContactList contacts = loaded.contacts;
  for (;;) {
    PlannedOrder out;
    out.finding = find_out(loaded.frame, contacts);
    if (out.finding.verdict != Verdict::buildable) return out;
    // The search goes by the frame as drawn, whose joints the steps count; the frame as it stands after the turns of
    // the fit has its say below. Only where nothing is built as drawn, or that is too long to be got
    // in between its surfaces, it is searched instead.
    const Placed* turned = out.finding.turned.get();
    planner::Order known = turned != nullptr ? planner::find_order(loaded.frame, contacts) : out.finding.order;
    const bool as_drawn = turned == nullptr || (known.buildable && !longer_than_its_room(loaded.frame));
    const model::Frame& frame = as_drawn ? loaded.frame : turned->frame;
    const planner::ContactList& list = as_drawn ? contacts : turned->contacts;
    if (!as_drawn) known = out.finding.order;
    out.plan = plan_order(frame, list, std::move(known), options);
    out.finding.order = out.plan.best.order;
    // No order leaves the program unless a judge that had no part in finding it agrees. Each round strikes out more
    // than the last, so the rounds end.
    const auto steps = as_given(out.finding.order.steps);
    auto judged = planner::replay(frame, list, steps);
    if (judged.legal && as_drawn && turned != nullptr) judged = planner::replay(turned->frame, turned->contacts, steps);
    if (judged.legal) {
      if (!as_drawn) {
        for (planner::Order* order : {&out.finding.order, &out.plan.best.order}) {
          count_as_made_up(loaded.frame, contacts, order->steps);
        }
      }
      return out;
    }
    strike(contacts.struck_out, struck_out(out.finding.order.steps, judged.first_bad_step));
  }
}

}  // namespace dryfit::cli
