#include "planner/order/in_rings.hpp"

#include <algorithm>
#include <set>

#include "planner/state/links.hpp"

namespace dryfit::planner {
namespace {

std::vector<PartId> pipes_of(const model::Frame& frame, const ContactList& list,
                             const std::vector<ContactId>& contacts) {
  std::set<PartId> pipes;
  for (const ContactId c : contacts) {
    for (const PartId p : {list.contact(c).a, list.contact(c).b}) {
      if (p != model::kRoom && frame.part(p).kind == model::PartKind::pipe) pipes.insert(p);
    }
  }
  return {pipes.begin(), pipes.end()};
}

}  // namespace

std::vector<InRing> rings_in_order(const model::Frame& frame, const ContactList& list,
                                   const std::vector<std::vector<ContactId>>& steps) {
  const Links links(frame, list);
  std::vector<InRing> found;
  for (const Threading& threading : links.threadings()) {
    State state(list);
    InRing now;
    for (std::size_t k = steps.size(); k-- > 0 && now.step == 0;) {
      const auto joined = [&] { return state.cluster(threading.of_ring) == state.cluster(threading.through); };
      const bool was_joined = joined(), was_loose = links.is_loose(threading, state);
      state.undo(steps[k]);
      const int number = static_cast<int>(k) + 1;
      if (was_joined && !joined()) now.until = number;
      if (!was_loose || links.is_loose(threading, state)) continue;
      now.step = number;
      now.closes = std::any_of(steps[k].begin(), steps[k].end(), [&](ContactId c) {
        return std::binary_search(threading.ring.begin(), threading.ring.end(), c);
      });
    }
    if (now.step == 0) continue;
    now.ring = pipes_of(frame, list, threading.ring);
    now.through = threading.through;
    found.push_back(std::move(now));
  }
  std::stable_sort(found.begin(), found.end(), [](const InRing& a, const InRing& b) { return a.step < b.step; });
  return found;
}

}  // namespace dryfit::planner
