#include "planner/early/last_call.hpp"

#include <algorithm>
#include <iterator>

#include "model/geometry/at.hpp"
#include "planner/peel/holds.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

using Flags = std::vector<char>;

void set(Flags& flags, const std::vector<ContactId>& contacts) {
  for (const ContactId c : contacts) flags[at(c)] = 1;
}

/// Everything that is made and not frozen goes.
Peeler peeled(Undoer& undoer, State state, const Flags& frozen, RefusalMemory& memory) {
  Peeler peeler(undoer, std::move(state), frozen, &memory);
  peeler.run();
  return peeler;
}

/// After each step from that one on all that has been made, the last first. What goes is cheaper to follow than to find
/// anew what hangs together.
std::vector<State> after_steps(const ContactList& list, const StepContacts& steps, std::size_t from) {
  Flags made(list.contacts.size(), 0);
  for (const auto& step : steps) set(made, step);
  State now(list, made);
  std::vector<State> after;
  after.reserve(steps.size() - from);
  for (std::size_t i = steps.size(); i-- > from;) {
    after.push_back(now);
    now.undo(steps[i]);
  }
  return after;
}

/// The state without what is not made of it.
State without_the_rest(State state, const Flags& made) {
  std::vector<ContactId> gone;
  for (ContactId c = 0; c < static_cast<ContactId>(made.size()); ++c) {
    if (state.made(c) && made[at(c)] == 0) gone.push_back(c);
  }
  state.undo(gone);
  return state;
}

/// The first contact that is made and not frozen, the part's own before others; kNone when all went.
ContactId first_stuck(const Peeler& peeler, const std::vector<ContactId>& own) {
  for (const ContactId c : own) {
    if (peeler.made(c) && !peeler.frozen(c)) return c;
  }
  for (const ContactId c : peeler.remaining()) {
    if (!peeler.frozen(c)) return c;
  }
  return model::kNone;
}

}  // namespace

LastCall last_call(Undoer& undoer, const std::vector<ContactId>& own, const StepContacts& steps) {
  LastCall result;
  const std::size_t n = undoer.list().contacts.size();
  RefusalMemory memory(n);
  Flags is_own(n, 0);
  set(is_own, own);
  const auto owned = [&](ContactId c) { return is_own[at(c)] != 0; };

  const auto turn = std::find_if(steps.begin(), steps.end(),
                                 [&](const auto& step) { return std::any_of(step.begin(), step.end(), owned); });
  // As given: states that can be completed. Before the part has its turn none is asked for.
  std::vector<State> with = after_steps(undoer.list(), steps, static_cast<std::size_t>(turn - steps.begin()));

  Flags without(n, 0);   // made, with the part put off
  bool waiting = false;  // the part has had its turn
  for (std::size_t i = 0; i < steps.size(); ++i) {
    std::vector<ContactId> others;
    std::copy_if(steps[i].begin(), steps[i].end(), std::back_inserter(others), [&](ContactId c) { return !owned(c); });
    const bool touches = others.size() < steps[i].size();
    if (touches && waiting && result.asked_for == 0) result.asked_for = static_cast<int>(i) + 1;
    waiting |= touches;
    if (!waiting) {
      set(without, others);
      continue;
    }
    const State now = std::move(with.back());
    with.pop_back();
    if (others.empty()) continue;
    Flags next = without;
    set(next, others);
    if (first_stuck(peeled(undoer, without_the_rest(now, next), without, memory), others) != model::kNone) {
      if (!touches && result.needed_by == 0) result.needed_by = static_cast<int>(i) + 1;
      if (result.asked_for == 0 && result.needed_by != 0) result.asked_for = result.needed_by;
      result.put_off.push_back(static_cast<int>(i) + 1);
      continue;
    }
    const Peeler rest = peeled(undoer, now, next, memory);
    result.stuck = first_stuck(rest, own);
    if (result.stuck != model::kNone) {
      result.step = static_cast<int>(i) + 1;
      result.trap = true;
      result.closed_out_by = std::move(others);
      result.why = rest.refusals(result.stuck);
      return result;
    }
    without = std::move(next);
  }
  return result;
}

HalfBuilt half_built(Undoer& undoer, const std::vector<ContactId>& own, const std::vector<char>& made) {
  HalfBuilt result;
  std::vector<ContactId> missing;
  std::copy_if(own.begin(), own.end(), std::back_inserter(missing), [&](ContactId c) { return made[at(c)] == 0; });
  Peeler peeler(undoer, State(undoer.list()), made);
  if (peeler.run_until_gone(missing)) return result;
  result.closed = true;
  for (const ContactId c : missing) {
    if (!peeler.made(c)) continue;
    const std::vector<ContactId> hold = hold_on(peeler, {c});
    if (result.stuck != model::kNone && hold.size() >= result.held_by.size()) continue;
    result.stuck = c;
    result.held_by = hold;
    result.why = peeler.refusals(c);
  }
  return result;
}

}  // namespace dryfit::planner
