#include "planner/refusal_memory.hpp"

#include <algorithm>

namespace dryfit::planner {

namespace {

/// More reasons than this per contact cost more to look through than they save.
constexpr std::size_t kMost = 6;

}  // namespace

RefusalMemory::Refusals RefusalMemory::find(const State& state, ContactId c) {
  auto& known = known_[static_cast<std::size_t>(c)];
  for (std::size_t i = 0; i < known.size(); ++i) {
    const bool stands =
        std::all_of(known[i]->held.begin(), known[i]->held.end(), [&](ContactId h) { return state.made(h); });
    if (!stands) continue;
    std::rotate(known.begin(), known.begin() + static_cast<std::ptrdiff_t>(i),
                known.begin() + static_cast<std::ptrdiff_t>(i) + 1);
    return known.front()->refusals;
  }
  return nullptr;
}

void RefusalMemory::keep(ContactId c, const Refusals& refusals) {
  if (refusals->empty()) return;
  Known fresh{{}, refusals};
  for (const Refusal& refusal : *refusals) {
    if (refusal.why == Refusal::Why::no_way && !refusal.held_by.empty()) return;
    fresh.held.insert(fresh.held.end(), refusal.held_by.begin(), refusal.held_by.end());
  }
  std::sort(fresh.held.begin(), fresh.held.end());
  fresh.held.erase(std::unique(fresh.held.begin(), fresh.held.end()), fresh.held.end());
  auto& known = known_[static_cast<std::size_t>(c)];
  known.insert(known.begin(), std::make_shared<const Known>(std::move(fresh)));
  if (known.size() > kMost) known.pop_back();
}

}  // namespace dryfit::planner
