#include "planner/early/goals.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "planner/peel/holds.hpp"

namespace dryfit::planner {
namespace {

/// What counts in any case says more than what counts once something is gone, and few contacts more than many.
bool says_more(const Hold& a, const Hold& b) {
  return std::pair(!a.always(), a.of.size()) < std::pair(!b.always(), b.of.size());
}

}  // namespace

Goals::Goals(const State& from, const Wanted& wanted) : from_(from), wanted_(wanted) {
  std::set<ContactId> gone;
  for (const ContactId c : wanted.gone) {
    if (from.made(c)) gone.insert(c);
  }
  for (const ContactId c : gone) goals_.push_back({{c}});
}

std::optional<Hold> Goals::open(const State& state) {
  for (const Hold& goal : goals_) {
    if (goal.holds_in(state)) return goal;
  }
  if (!wanted_.unmet) return std::nullopt;
  std::optional<Hold> goal = wanted_.unmet(state);
  if (!goal || goal->of.empty()) return goal;
  std::sort(goal->of.begin(), goal->of.end());
  // What was never made is gone in any case.
  if (!goal->always() && !from_.made(goal->once_gone)) goal->once_gone = model::kNone;
  goals_.push_back(*goal);
  return goal;
}

std::optional<Hold> Goals::next_hold(const Peeler& peeler) {
  const auto goal = open(peeler.state());
  if (!goal || goal->of.empty()) return goal;
  std::optional<Hold> best;
  for (const Hold& other : goals_) {
    if (!other.holds_in(peeler.state())) continue;
    Hold hold{hold_on(peeler, other.of), other.once_gone};
    if (!best || says_more(hold, *best)) best = std::move(hold);
  }
  return best;
}

}  // namespace dryfit::planner
