#include "planner/now/way_on.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/judge/replay.hpp"
#include "planner/now/until_judged.hpp"
#include "planner/now/with_itself.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {
namespace {

std::vector<ContactId> made_contacts(const std::vector<char>& made) {
  std::vector<ContactId> contacts;
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] != 0) contacts.push_back(static_cast<ContactId>(c));
  }
  return contacts;
}

StruckOut struck(std::vector<ContactId> contacts, const std::vector<char>& made) {
  std::sort(contacts.begin(), contacts.end());
  return {std::move(contacts), {}, made_contacts(made)};
}

/// States of an effort search per contact of the frame: each asks the whole frame whether it can be completed.
constexpr long long kContactStates = 20000;

/// The steps from what stays made, and what they cost.
void complete(WayOn& way, Undoer& undoer, UndoCost& cost, const NowOptions& options) {
  std::vector<char> kept(undoer.list().contacts.size(), 0);
  for (const ContactId c : way.kept) kept[at(c)] = 1;
  const WayBetween rest = way_between(undoer, cost, kept, std::vector<char>(kept.size(), 1), options.order,
                                      options.weighing, options.foreman);
  if (!rest.possible) throw std::logic_error("what stays made cannot be completed");
  way.then = steps_of(undoer.frame(), undoer.list(), rest.moves);
  way.effort = rest.effort;
  way.states += rest.states;
}

/// Of ways with as few moves the one that is less work, there and back: caps rather than the pipes under them.
void choose_easier(WayOn& way, Undoer& undoer, UndoCost& cost, const std::vector<char>& built, const Matching& same,
                   const NowOptions& options) {
  const model::Frame& frame = undoer.frame();
  const ContactList& list = undoer.list();
  Changer changer(frame, list, frame, list, same, ChangePrice::effort, options.people);
  const long long states = kContactStates / static_cast<long long>(built.size());
  ChangePlan plan = changer.plan(built, std::min(options.budget, states), options.foreman);
  if (plan.undo.size() > way.undo.size()) return;
  WayOn other = way;
  other.undo = std::move(plan.undo);
  other.undo_moves.at_most = static_cast<double>(other.undo.size());
  other.kept = std::move(plan.kept);
  complete(other, undoer, cost, options);
  const auto total = [&](const WayOn& one) { return cost.of_all(State(list, built), one.undo) + one.effort.at_most; };
  if (other.undo.size() < way.undo.size() || total(other) < total(way)) way = std::move(other);
}

WayOn search_way_on(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                    const std::vector<ContactId>& renewed, const NowOptions& options) {
  WayOn way;
  const Matching same = with_itself(frame, list, renewed);
  Changer changer(frame, list, frame, list, same);
  ChangePlan plan = changer.plan(built, options.budget, options.foreman);
  way.states = plan.states;
  way.locked = plan.verdict == ChangePlan::Verdict::locked;
  if (way.locked) return way;
  way.undo = std::move(plan.undo);
  way.undo_moves = plan.price;
  way.kept = std::move(plan.kept);
  Undoer undoer(frame, list);
  UndoCost cost(undoer, options.people);
  complete(way, undoer, cost, options);
  if (!way.undo.empty()) choose_easier(way, undoer, cost, built, same, options);
  return way;
}

}  // namespace

std::optional<CannotStand> cannot_stand(Undoer& undoer, const std::vector<char>& made) {
  State state(undoer.list(), made);
  Peeling peeling = peel(undoer, state);
  if (peeling.remaining.empty()) return std::nullopt;
  return CannotStand{std::move(peeling.remaining), std::move(peeling.refusals.front())};
}

std::optional<StruckOut> judged(const model::Frame& frame, const ContactList& list, std::vector<char>& made,
                                const std::vector<Move>& undo, const std::vector<Step>& then, std::string* why) {
  MoveJudge judge(frame, list);
  for (const Move& move : undo) {
    if (!judge.can_undo(made, {action_of(frame, move), move.contacts, {}}, why)) return struck(move.contacts, made);
    for (const ContactId c : move.contacts) made[at(c)] = 0;
  }
  for (const Step& step : then) {
    for (const ContactId c : step.contacts) made[at(c)] = 1;
    if (!judge.can_undo(made, {step.action, step.contacts, step.moving}, why)) return struck(step.contacts, made);
  }
  return std::nullopt;
}

WayOn way_on(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
             const std::vector<ContactId>& renewed, const NowOptions& options) {
  return until_judged(
      list, "a way on", [&](const ContactList& open) { return search_way_on(frame, open, built, renewed, options); },
      [&](const WayOn& way, std::string& why) -> std::optional<StruckOut> {
        if (way.locked) return std::nullopt;
        std::vector<char> made = built;
        return judged(frame, list, made, way.undo, way.then, &why);
      });
}

}  // namespace dryfit::planner
