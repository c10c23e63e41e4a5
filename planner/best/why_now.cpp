#include "planner/best/why_now.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

void add(Extra& sum, const Extra& more) {
  sum.swing += more.swing;
  sum.carry += more.carry;
  sum.start += more.start;
  sum.air += more.air;
  sum.strap += more.strap;
  sum.hole += more.hole;
  sum.room += more.room;
  sum.aside += more.aside;
  sum.heavy += more.heavy;
}

/// Tells of the feet of heavy boards, and of these, that the weight is what they wait for.
void tell_of_weight(std::vector<WhyNow>& reasons, const ContactList& list, const Effort& effort, const BestOrder& best,
                    const std::vector<std::size_t>& step_of) {
  if (!best.effort.heavy_counts || effort.heavy_last().none()) return;
  for (ContactId foot = 0; foot < static_cast<ContactId>(list.contacts.size()); ++foot) {
    const std::size_t screwed = step_of[at(foot)];
    for (const ContactId c : effort.heavy_last().needs(foot)) {
      const Contact& on = list.contact(c);
      if (takes_own_move(on.kind) || step_of[at(c)] <= screwed) continue;  // another foot, or too early
      reasons[screwed].heavy.push_back(on.a);
      reasons[step_of[at(c)]].heavy.push_back(on.a);
    }
  }
  for (WhyNow& why : reasons) {
    std::sort(why.heavy.begin(), why.heavy.end());
    why.heavy.erase(std::unique(why.heavy.begin(), why.heavy.end()), why.heavy.end());
  }
}

/// All contacts of the step can be undone, one move after the other, and nothing else with them.
bool comes_off(Undoer& undoer, State state, const Step& step) {
  std::vector<char> others(state.all().size(), 1);
  for (const ContactId c : step.contacts) others[at(c)] = 0;
  for (bool moved = true; moved;) {
    moved = false;
    for (const ContactId c : step.contacts) {
      if (!state.made(c)) continue;
      Attempt attempt = undoer.try_undo(state, c, Undoer::kNoCap, &others);
      if (!attempt.legal) continue;
      state.undo(attempt.move.contacts);
      moved = true;
    }
  }
  return std::none_of(step.contacts.begin(), step.contacts.end(), [&](ContactId c) { return state.made(c); });
}

}  // namespace

std::vector<WhyNow> why_now(const model::Frame& frame, const ContactList& list, const Effort& effort,
                            const BestOrder& best) {
  const std::vector<Step>& steps = best.order.steps;
  std::vector<WhyNow> reasons(steps.size());
  std::vector<std::size_t> step_of(list.contacts.size(), 0);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    for (const ContactId c : steps[i].contacts) step_of[at(c)] = i;
  }
  for (std::size_t k = 0; k < best.undo_moves.size(); ++k) {
    WhyNow& why = reasons[step_of[at(best.undo_moves[k].contacts.front())]];
    const StepChoice& choice = best.choices[k];
    add(why.extra, choice.extra);
    if (!best.poses.of_move.empty()) {
      why.awkward += best.poses.awkward[k];
      why.prop += best.poses.propped[k] != 0 ? effort_rates().prop : 0.0;
    }
    if (!choice.weighed) continue;
    why.weighed = true;
    why.runner_up = choice.runner_up;
    why.instead = choice.instead;
  }
  tell_of_weight(reasons, list, effort, best, step_of);
  Undoer undoer(frame, list);
  const auto after = [&](std::size_t last) {
    std::vector<char> made(list.contacts.size(), 0);
    for (std::size_t i = 0; i <= last; ++i) {
      for (const ContactId c : steps[i].contacts) made[at(c)] = 1;
    }
    return State(list, made);
  };
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
    if (comes_off(undoer, after(steps.size() - 1), steps[i])) continue;
    std::size_t open = i, shut = steps.size() - 1;  // made up to `open` it comes off, up to `shut` it does not
    while (shut - open > 1) {
      const std::size_t middle = (open + shut) / 2;
      (comes_off(undoer, after(middle), steps[i]) ? open : shut) = middle;
    }
    reasons[i].shut_out_by = steps[shut].number;
  }
  return reasons;
}

}  // namespace dryfit::planner
