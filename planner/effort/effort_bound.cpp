#include "planner/effort/effort_bound.hpp"

#include <algorithm>
#include <limits>

#include "model/geometry/at.hpp"
#include "planner/moves/any_refusal.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

constexpr double kNowhere = std::numeric_limits<double>::infinity();

}  // namespace

double EffortBound::of(const std::vector<char>& made, const std::vector<ContactId>& except, bool threads) {
  left_ = made;
  for (const ContactId c : except) left_[at(c)] = 0;
  const double sum = sum_of(left_, threads, true);
  if (effort_.heavy_last().none()) return sum;
  State left(undoer_.list(), made);
  left.undo(except);
  const EffortRates& rates = effort_rates();
  const double heavy = effort_.heavy_last().least(left, rates.heavy_before_feet, rates.held_by_room);
  return heavy <= 0.0 ? sum : std::max(sum, sum_of(left_, threads, false) + heavy);
}

double EffortBound::sum_of(const std::vector<char>& made, bool threads, bool room) {
  const auto least_of = [&](ContactId c) {
    const Least least = least_extra(c);
    return room ? least.with_room : least.without_room;
  };
  const std::vector<Contact>& contacts = undoer_.list().contacts;
  double sum = 0.0;
  links_.clear();
  for (std::size_t i = 0; i < made.size(); ++i) {
    if (made[i] == 0 || !effort_.holds_together(contacts[i])) continue;
    const auto c = static_cast<ContactId>(i);
    if (contacts[i].kind == ContactKind::thread) {
      if (threads) sum += least_of(c);
    } else if (const double least = least_of(c); least < kNowhere) {
      links_.emplace_back(least, c);
    }
  }
  if (links_.empty()) return sum;
  // A spanning forest that costs least (Kruskal 1956): the threads are in it already.
  pieces_.part_all();
  for (std::size_t i = 0; i < made.size(); ++i) {
    if (made[i] != 0 && contacts[i].kind == ContactKind::thread) pieces_.join(contacts[i].a, contacts[i].b);
  }
  std::sort(links_.begin(), links_.end());
  for (const auto& [least, c] : links_) {
    if (pieces_.join(contacts[at(c)].a, contacts[at(c)].b)) sum += least;
  }
  return sum;
}

EffortBound::Least EffortBound::least_extra(ContactId c) {
  std::optional<Least>& known = least_[at(c)];
  if (known) return *known;
  if (spent_()) return {};
  const AnyRefusal will_do;
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
