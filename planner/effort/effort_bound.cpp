#include "planner/effort/effort_bound.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

#include "model/geometry/at.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {
namespace {

constexpr double kNowhere = std::numeric_limits<double>::infinity();

}  // namespace

double EffortBound::of(const std::vector<char>& made, const std::vector<ContactId>& except, bool threads) {
  std::vector<PartId> piece(undoer_.frame().parts.size());
  std::iota(piece.begin(), piece.end(), 0);
  const auto root = [&](PartId p) {
    while (piece[at(p)] != p) p = piece[at(p)];
    return p;
  };
  const auto join = [&](const Contact& c) {
    const PartId a = root(c.a), b = root(c.b);
    if (a == b) return false;
    piece[at(std::max(a, b))] = std::min(a, b);
    return true;
  };
  double sum = 0.0;
  std::vector<std::pair<double, ContactId>> links;
  for (std::size_t i = 0; i < made.size(); ++i) {
    const auto c = static_cast<ContactId>(i);
    const Contact& contact = undoer_.list().contacts[i];
    if (made[i] == 0 || !effort_.holds_together(contact)) continue;
    if (std::find(except.begin(), except.end(), c) != except.end()) continue;
    if (contact.kind == ContactKind::thread) {
      if (threads) sum += least_extra(c);
      join(contact);
    } else if (const double least = least_extra(c); least < kNowhere) {
      links.emplace_back(least, c);
    }
  }
  std::sort(links.begin(), links.end());
  for (const auto& [least, c] : links) {
    if (join(undoer_.list().contact(c))) sum += least;
  }
  return sum;
}

double EffortBound::least_extra(ContactId c) {
  std::optional<double>& known = least_[at(c)];
  if (known) return *known;
  if (spent_()) return 0.0;
  State state(undoer_.list());
  std::vector<char> frozen(undoer_.list().contacts.size(), 0);
  frozen[at(c)] = 1;
  static_cast<void>(peel(undoer_, state, &frozen));
  double least = kNowhere;
  if (effort_.parts_work(state, c)) {
    for (Move& move : undoer_.ways(state, c)) {
      // Straps are left out: in a larger state they may be made already.
      const Extra extra = effort_.price(state, move);
      least = std::min(least, extra.total() - extra.strap);
    }
  }
  known = least;
  return least;
}

}  // namespace dryfit::planner
