#include "planner/change/undo_cost.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/effort/tilt.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {

UndoCost::UndoCost(Undoer& undoer, int people)
    : undoer_(undoer), list_(undoer.list()), effort_(undoer, people), least_(list_.contacts.size()) {}

CostedMove UndoCost::of(const State& state, Move move) const {
  PricedMove priced = effort_.price(state, std::move(move));
  CostedMove costed{std::move(priced.move), priced.extra.total()};
  costed.cost += raising(state, costed.move);
  for (const ContactId c : costed.move.contacts) costed.cost += effort_.making(c);
  return costed;
}

double UndoCost::raising(const State& state, const Move& move) const {
  const model::Surface* floor = surface_facing(undoer_.frame(), model::kUp);
  const double down = -move.travel.z;
  const bool upright = std::abs(down) > std::max(std::abs(move.travel.x), std::abs(move.travel.y));
  if (floor == nullptr || move.kind != MoveKind::unscrew || down <= 0.0 || !upright) return 0.0;
  const auto over_floor = [&](PartId p) { return effort_.bounds(p).lo.z - floor->at >= down; };
  if (std::all_of(move.moving.begin(), move.moving.end(), over_floor)) return 0.0;
  for (const Move& way : undoer_.ways(state, move.contacts.front())) {
    if (way.kind == move.kind && way.moving != move.moving && way.mass < move.mass) return effort_rates().at_the_foot;
  }
  return 0.0;
}

double UndoCost::of_all(State state, const std::vector<Move>& moves) const {
  double sum = 0.0;
  for (const Move& move : moves) {
    sum += of(state, move).cost;
    state.undo(move.contacts);
  }
  return sum;
}

std::vector<CostedMove> UndoCost::moves(const State& state, const std::vector<char>* keep) {
  const auto kept = [&](ContactId c) { return keep != nullptr && (*keep)[at(c)] != 0; };
  std::vector<CostedMove> found;
  // Which side of a thread turns makes no other state, but another price: every way is asked for.
  std::map<std::vector<ContactId>, std::size_t> known;
  for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) {
    if (!state.made(c) || kept(c)) continue;
    for (Move& move : undoer_.ways(state, c)) {
      if (std::any_of(move.contacts.begin(), move.contacts.end(), kept)) continue;
      CostedMove costed = of(state, std::move(move));
      std::vector<ContactId> key = costed.move.contacts;
      std::sort(key.begin(), key.end());
      const auto [at, is_new] = known.emplace(std::move(key), found.size());
      if (is_new) {
        found.push_back(std::move(costed));
      } else if (costed.cost < found[at->second].cost - 1e-9) {
        found[at->second] = std::move(costed);
      }
    }
  }
  return found;
}

/// Freeze the thread and undo all else that can be: what is left is made whenever the thread is, and no extra falls
/// when more is made. Starts are left out: what hangs together in holes today may be two pieces in the smallest state.
double UndoCost::least_effort(ContactId thread) {
  std::optional<double>& known = least_[at(thread)];
  if (known) return *known;
  State state(list_);
  std::vector<char> frozen(list_.contacts.size(), 0);
  frozen[at(thread)] = 1;
  static_cast<void>(peel(undoer_, state, &frozen));
  double least = std::numeric_limits<double>::infinity();
  for (Move& move : undoer_.ways(state, thread)) {
    const Extra extra = effort_.price(state, std::move(move)).extra;
    least = std::min(least, extra.total() - extra.start);
  }
  known = least < std::numeric_limits<double>::infinity() ? least : 0.0;
  return *known;
}

double UndoCost::least_to_undo(ContactId c) {
  return effort_.making(c) + (list_.contact(c).kind == ContactKind::thread ? least_effort(c) : 0.0);
}

/// Holds that have no contact in common, small ones first: each costs the cheapest of its contacts at least.
double UndoCost::least(const std::vector<Hold>& holds, const State& state) {
  std::vector<const Hold*> open;
  for (const Hold& hold : holds) {
    if (hold.holds_in(state)) open.push_back(&hold);
  }
  std::stable_sort(open.begin(), open.end(), [](const Hold* a, const Hold* b) { return a->of.size() < b->of.size(); });
  std::vector<char> used(list_.contacts.size(), 0);
  double sum = 0.0;
  for (const Hold* hold : open) {
    if (std::any_of(hold->of.begin(), hold->of.end(), [&](ContactId c) { return used[at(c)] != 0; })) continue;
    double least = std::numeric_limits<double>::infinity();
    for (const ContactId c : hold->of) {
      used[at(c)] = 1;
      least = std::min(least, least_to_undo(c));
    }
    sum += least;
  }
  return sum;
}

}  // namespace dryfit::planner
