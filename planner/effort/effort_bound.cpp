#include "planner/effort/effort_bound.hpp"

#include <algorithm>
#include <limits>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

constexpr double kNowhere = std::numeric_limits<double>::infinity();

}  // namespace

double EffortBound::of(const std::vector<char>& made, const std::vector<ContactId>& except, bool threads) {
  const double sum = sum_of(made, except, threads, true);
  if (effort_.heavy_last().none()) return sum;
  State left(undoer_.list(), made);
  left.undo(except);
  const EffortRates& rates = effort_rates();
  const double heavy = effort_.heavy_last().least(left, rates.heavy_before_feet, rates.held_by_room);
  return heavy <= 0.0 ? sum : std::max(sum, sum_of(made, except, threads, false) + heavy);
}

double EffortBound::sum_of(const std::vector<char>& made, const std::vector<ContactId>& except, bool threads,
                           bool room) {
  const auto least_of = [&](ContactId c) {
    const Least least = least_extra(c);
    return room ? least.with_room : least.without_room;
  };
  DisjointSets pieces(undoer_.frame().parts.size());
  double sum = 0.0;
  std::vector<std::pair<double, ContactId>> links;
  for (std::size_t i = 0; i < made.size(); ++i) {
    const auto c = static_cast<ContactId>(i);
    const Contact& contact = undoer_.list().contacts[i];
    if (made[i] == 0 || !effort_.holds_together(contact)) continue;
    if (std::find(except.begin(), except.end(), c) != except.end()) continue;
    if (contact.kind == ContactKind::thread) {
      if (threads) sum += least_of(c);
      pieces.join(contact.a, contact.b);
    } else if (const double least = least_of(c); least < kNowhere) {
      links.emplace_back(least, c);
    }
  }
  std::sort(links.begin(), links.end());
  // A spanning forest that costs least (Kruskal 1956): the threads are in it already.
  for (const auto& [least, c] : links) {
    const Contact& contact = undoer_.list().contact(c);
    if (pieces.join(contact.a, contact.b)) sum += least;
  }
  return sum;
}

EffortBound::Least EffortBound::least_extra(ContactId c) {
  std::optional<Least>& known = least_[at(c)];
  if (known) return *known;
  if (spent_()) return {};
  std::vector<char> frozen(undoer_.list().contacts.size(), 0);
  frozen[at(c)] = 1;
  Peeler peeler(undoer_, State(undoer_.list()), std::move(frozen));
  peeler.run();
  const State& state = peeler.state();
  Least least{kNowhere, kNowhere};
  if (effort_.parts_work(state, c)) {
    for (Move& move : undoer_.ways(state, c)) {
      // Straps are left out: in a larger state they may be made already.
      const Extra extra = effort_.price(state, std::move(move)).extra;
      least.with_room = std::min(least.with_room, extra.total() - extra.strap);
      least.without_room = std::min(least.without_room, extra.total() - extra.strap - extra.room);
    }
  }
  known = least;
  return least;
}

}  // namespace dryfit::planner
