#include "planner/now/apart.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/change/effort_search.hpp"
#include "planner/early/fewest.hpp"

namespace dryfit::planner {
namespace {

/// Undo moves asked for per state of the budget, as a change of design counts them.
constexpr long long kTriesAState = 8;
/// States of a search for less effort per contact of the frame.
constexpr long long kEasierStates = 20000;

std::vector<ContactId> made_with_room(const ContactList& list, const std::vector<char>& made) {
  std::vector<ContactId> contacts;
  for (std::size_t c = 0; c < made.size(); ++c) {
    const Contact& contact = list.contacts[c];
    const bool with_room = contact.a == model::kRoom || contact.b == model::kRoom;
    if (made[c] != 0 && with_room) contacts.push_back(static_cast<ContactId>(c));
  }
  return contacts;
}

std::vector<char> left_by(std::vector<char> made, const std::vector<Move>& moves) {
  for (const Move& move : moves) {
    for (const ContactId c : move.contacts) made[at(c)] = 0;
  }
  return made;
}

/// To the same state by the cheapest way, where that takes no more moves.
void go_easily(Apart& apart, Undoer& undoer, UndoCost& cost, const std::vector<char>& from, const NowOptions& options) {
  WayBetween way = way_between(undoer, cost, apart.made, from, options.order, options.weighing, options.foreman);
  apart.states += way.states;
  if (way.possible && way.moves.size() <= apart.moves.size()) {
    apart.moves = std::move(way.moves);
    apart.effort = way.effort;
    return;
  }
  State state(undoer.list(), from);
  double sum = 0.0;
  for (const Move& move : apart.moves) {
    sum += cost.of(state, move).cost;
    state.undo(move.contacts);
  }
  apart.effort = {std::min(way.effort.at_least, sum), sum};
}

}  // namespace

Apart apart_for(Undoer& undoer, UndoCost& cost, const TooLarge& too_large, const ApartTask& asked,
                const NowOptions& options) {
  const ContactList& list = undoer.list();
  const auto unmet = [&](const State& state) {
    std::optional<Hold> hold = too_large.unmet(state);
    return hold || !asked.besides ? hold : asked.besides(state);
  };
  Wanted wanted;
  wanted.gone = made_with_room(list, asked.from);
  wanted.unmet = unmet;
  wanted.kept = asked.kept;
  const State start(list, asked.from);
  FewestMoves fewest = fewest_moves(undoer, start, wanted, options.budget * kTriesAState, nullptr, options.foreman);
  if (!fewest.possible) throw std::logic_error("what can be built does not come apart");
  Apart apart;
  apart.states = fewest.states;
  apart.fewest = {static_cast<double>(fewest.at_least), static_cast<double>(fewest.cost)};
  apart.made = left_by(asked.from, fewest.moves);
  apart.moves = std::move(fewest.moves);
  go_easily(apart, undoer, cost, asked.from, options);
  if (apart.moves.empty()) return apart;
  EffortTask task;
  task.built = asked.from;
  task.holds = &fewest.holds;
  task.keep = asked.kept.empty() ? nullptr : &asked.kept;
  task.is_good = [&](const State& state) { return made_with_room(list, state.all()).empty() && !unmet(state); };
  task.below = apart.effort.at_most;
  task.budget = std::min(options.budget, kEasierStates / static_cast<long long>(asked.from.size()));
  task.foreman = options.foreman;
  SearchedEffort easier = search_effort(cost, list, task);
  apart.states += easier.states;
  if (easier.found && easier.moves.size() <= apart.moves.size()) {
    apart.fewest.at_most = static_cast<double>(easier.moves.size());
    apart.fewest.at_least = std::min(apart.fewest.at_least, apart.fewest.at_most);
    apart.made = left_by(asked.from, easier.moves);
    apart.moves = std::move(easier.moves);
    apart.effort = {easier.effort, easier.effort};
  }
  return apart;
}

}  // namespace dryfit::planner
