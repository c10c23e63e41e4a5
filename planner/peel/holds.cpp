#include "planner/peel/holds.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

std::vector<ContactId> hold_on(const Peeler& peeler, const std::vector<ContactId>& kept) {
  std::vector<ContactId> outside, stuck;
  std::vector<char> seen(peeler.state().all().size(), 0);
  const auto add = [&](ContactId c) {
    if (seen[at(c)] != 0 || !peeler.made(c)) return;
    seen[at(c)] = 1;
    (peeler.frozen(c) ? outside : stuck).push_back(c);
  };
  for (const ContactId c : kept) add(c);
  for (std::size_t i = 0; i < stuck.size(); ++i) {
    for (const Refusal& refusal : peeler.refusals(stuck[i])) {
      for (const ContactId c : refusal.held_by) add(c);
    }
  }
  std::sort(outside.begin(), outside.end());
  return outside;
}

}  // namespace dryfit::planner
