#include "planner/change/undo_cost.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <set>

#include "model/geometry/at.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {

UndoCost::UndoCost(Undoer& undoer, ChangePrice by, int people)
    : undoer_(undoer), list_(undoer.list()), effort_(undoer, people), by_(by), least_(list_.contacts.size()) {}

double UndoCost::of(const State& state, Move& move) const {
  if (by_ == ChangePrice::moves) return 1.0;
  double cost = effort_.price(state, move).total();
  for (const ContactId c : move.contacts) cost += effort_.making(c);
  return cost;
}

double UndoCost::of(const std::vector<char>& made, std::vector<Move>& moves) const {
  State state(list_, made);
  double sum = 0.0;
  for (Move& move : moves) {
    sum += of(state, move);
    state.undo(move.contacts);
  }
  return sum;
}

std::vector<CostedMove> UndoCost::moves(const State& state) {
  std::vector<CostedMove> found;
  if (by_ == ChangePrice::moves) {
    for (Move& move : undoer_.all_moves(state)) found.push_back({std::move(move), 1.0});
    return found;
  }
  // Which side of a thread turns makes no other state, but another price: every way is asked for.
  std::map<std::vector<ContactId>, std::size_t> known;
  for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) {
    if (!state.made(c)) continue;
    for (Move& move : undoer_.ways(state, c)) {
      const double cost = of(state, move);
      std::vector<ContactId> key = move.contacts;
      std::sort(key.begin(), key.end());
      const auto [at, is_new] = known.emplace(std::move(key), found.size());
      if (is_new) {
        found.push_back({std::move(move), cost});
      } else if (cost < found[at->second].cost - 1e-9) {
        found[at->second] = {std::move(move), cost};
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
    const Extra extra = effort_.price(state, move);
    least = std::min(least, extra.total() - extra.start);
  }
  known = least < std::numeric_limits<double>::infinity() ? least : 0.0;
  return *known;
}

double UndoCost::least(const std::vector<char>& contacts) {
  double sum = 0.0;
  if (by_ == ChangePrice::effort) {
    for (std::size_t c = 0; c < contacts.size(); ++c) {
      if (contacts[c] == 0) continue;
      const auto id = static_cast<ContactId>(c);
      sum += effort_.making(id) + (list_.contacts[c].kind == ContactKind::thread ? least_effort(id) : 0.0);
    }
    return sum;
  }
  // Threads, nuts and fastenings go one at a time, the rests of one board together, holes with one axis at best at
  // once.
  std::set<PartId> rests;
  std::set<int> axes;
  for (std::size_t c = 0; c < contacts.size(); ++c) {
    if (contacts[c] == 0) continue;
    const Contact& k = list_.contacts[c];
    switch (k.kind) {
      case ContactKind::rest: rests.insert(k.a); break;
      case ContactKind::hole:
      case ContactKind::notch: axes.insert(k.axis.axis()); break;
      default: sum += 1.0; break;
    }
  }
  return sum + static_cast<double>(rests.size() + axes.size());
}

}  // namespace dryfit::planner
