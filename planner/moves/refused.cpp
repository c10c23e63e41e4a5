#include "planner/moves/refused.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

std::vector<ContactId> grounds_of(const std::vector<Refusal>& refusals) {
  std::vector<ContactId> grounds;
  for (const Refusal& refusal : refusals) {
    grounds.insert(grounds.end(), refusal.held_by.begin(), refusal.held_by.end());
  }
  std::sort(grounds.begin(), grounds.end());
  grounds.erase(std::unique(grounds.begin(), grounds.end()), grounds.end());
  return grounds;
}

const std::vector<ContactId>* Refused::find(const State& state, ContactId c) const {
  for (const std::vector<ContactId>& grounds : known_[at(c)].grounds) {
    if (std::all_of(grounds.begin(), grounds.end(), [&](ContactId k) { return state.made(k); })) return &grounds;
  }
  return nullptr;
}

const std::vector<ContactId>& Refused::keep(ContactId c, const std::vector<Refusal>& refusals) {
  std::vector<ContactId> grounds = grounds_of(refusals);
  Kept& kept = known_[at(c)];
  if (kept.grounds.size() < kKept) {
    kept.grounds.push_back(std::move(grounds));
    return kept.grounds.back();
  }
  std::vector<ContactId>& oldest = kept.grounds[kept.next];
  kept.next = (kept.next + 1) % kKept;
  oldest = std::move(grounds);
  return oldest;
}

}  // namespace dryfit::planner
