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
  DisjointSets pieces(undoer_.frame().parts.size());
  double sum = 0.0;
  std::vector<std::pair<double, ContactId>> links;
  for (std::size_t i = 0; i < made.size(); ++i) {
    const auto c = static_cast<ContactId>(i);
    const Contact& contact = undoer_.list().contacts[i];
    if (made[i] == 0 || !effort_.holds_together(contact)) continue;
    if (std::find(except.begin(), except.end(), c) != except.end()) continue;
    if (contact.kind == ContactKind::thread) {
      if (threads) sum += least_extra(c);
      pieces.join(contact.a, contact.b);
    } else if (const double least = least_extra(c); least < kNowhere) {
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

double EffortBound::least_extra(ContactId c) {
  std::optional<double>& known = least_[at(c)];
  if (known) return *known;
  if (spent_()) return 0.0;
  std::vector<char> frozen(undoer_.list().contacts.size(), 0);
  frozen[at(c)] = 1;
  Peeler peeler(undoer_, State(undoer_.list()), std::move(frozen));
  peeler.run();
  const State& state = peeler.state();
  double least = kNowhere;
  if (effort_.parts_work(state, c)) {
    for (Move& move : undoer_.ways(state, c)) {
      // Straps are left out: in a larger state they may be made already.
      const Extra extra = effort_.price(state, std::move(move)).extra;
      least = std::min(least, extra.total() - extra.strap);
    }
  }
  known = least;
  return least;
}

}  // namespace dryfit::planner
