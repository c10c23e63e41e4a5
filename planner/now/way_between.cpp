#include "planner/now/way_between.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/change/effort_search.hpp"
#include "planner/change/open_way.hpp"
#include "planner/now/sorted_contacts.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

constexpr double kSame = 1e-9;

bool reached(const State& state, const std::vector<char>& earlier) { return state.all() == earlier; }

/// The undo moves that follow an order backwards as far as they can; what cannot go at its turn is asked again.
std::vector<Move> along(Undoer& undoer, State state, const std::vector<char>& earlier, const StepsOfContacts& order) {
  std::vector<Move> moves;
  for (bool more = true; more && !reached(state, earlier);) {
    more = false;
    for (auto step = order.rbegin(); step != order.rend(); ++step) {
      for (const ContactId c : *step) {
        if (!state.made(c) || earlier[at(c)] != 0) continue;
        Attempt attempt = undoer.try_undo(state, c, Undoer::kNoCap, &earlier);
        if (!attempt.legal) continue;
        more = true;
        state.undo(attempt.move.contacts);
        moves.push_back(std::move(attempt.move));
      }
    }
  }
  return reached(state, earlier) ? moves : std::vector<Move>();
}

/// The same moves, each by its cheapest way, and what they cost together.
double made_cheap(Undoer& undoer, const UndoCost& cost, State state, std::vector<Move>& moves) {
  double sum = 0.0;
  for (Move& move : moves) {
    CostedMove best = cost.of(state, move);
    const std::vector<ContactId> wanted = sorted_contacts(move.contacts);
    for (Move& way : undoer.ways(state, move.contacts.front())) {
      if (sorted_contacts(way.contacts) != wanted) continue;
      CostedMove other = cost.of(state, std::move(way));
      if (other.cost < best.cost - kSame) best = std::move(other);
    }
    state.undo(best.move.contacts);
    sum += best.cost;
    move = std::move(best.move);
  }
  return sum;
}

}  // namespace

WayBetween way_between(Undoer& undoer, UndoCost& cost, const std::vector<char>& earlier, const std::vector<char>& later,
                       const StepsOfContacts& order, long long budget, Foreman* foreman) {
  WayBetween way;
  const State start(undoer.list(), later);
  Peeler peeler(undoer, start, earlier);
  peeler.run(&way.moves);
  way.possible = reached(peeler.state(), earlier);
  if (!way.possible) return {};
  if (way.moves.empty()) return way;
  way.effort.at_most = made_cheap(undoer, cost, start, way.moves);
  std::vector<Move> followed = along(undoer, start, earlier, order);
  if (!followed.empty()) {
    const double effort = made_cheap(undoer, cost, start, followed);
    if (effort <= way.effort.at_most + kSame) {
      way.effort.at_most = effort;
      way.moves = std::move(followed);
    }
  }
  // Whatever has to be made is undone in every way: each such contact is a hold of its own.
  std::vector<Hold> holds;
  for (std::size_t c = 0; c < later.size(); ++c) {
    if (later[c] != 0 && earlier[c] == 0) holds.push_back({{static_cast<ContactId>(c)}, model::kNone});
  }
  EffortTask task;
  task.built = later;
  task.holds = &holds;
  task.keep = &earlier;
  task.is_good = [&](const State& state) { return reached(state, earlier); };
  task.below = way.effort.at_most;
  task.budget = budget / static_cast<long long>(std::max<std::size_t>(1, holds.size()));
  task.foreman = foreman;
  SearchedEffort searched = search_effort(cost, undoer.list(), task);
  way.states = searched.states;
  way.effort.at_least = std::min(std::max(cost.least(holds, start), searched.at_least), way.effort.at_most);
  if (searched.found) {
    way.moves = std::move(searched.moves);
    way.effort = {searched.effort, searched.effort};
  }
  take_open_ways(undoer, cost, start, way.moves);
  return way;
}

}  // namespace dryfit::planner
