#include "planner/moves/refusal_memory.hpp"

#include <algorithm>
#include <utility>

#include "planner/base/ascending.hpp"

namespace dryfit::planner {

namespace {

/// What several refusals rest on together. Ascending, each once.
std::vector<ContactId> grounds_of(const std::vector<Refusal>& refusals) {
  std::vector<ContactId> grounds;
  for (const Refusal& refusal : refusals) {
    grounds.insert(grounds.end(), refusal.held_by.begin(), refusal.held_by.end());
  }
  make_ascending(grounds);
  return grounds;
}

}  // namespace

Refusals::Refusals(std::vector<Refusal> each) : each_(std::move(each)), held_by_(grounds_of(each_)) {}

SharedRefusals RefusalMemory::find(const State& state, ContactId c) {
  auto& known = known_[at(c)];
  for (std::size_t i = 0; i < known.size(); ++i) {
    // States that follow each other lack mostly the same: one look is enough for most that do not stand.
    if (known[i].missed != model::kNone && !state.made(known[i].missed)) continue;
    const std::vector<ContactId>& held_by = known[i].refusals->held_by();
    const auto gone = std::find_if(held_by.begin(), held_by.end(), [&](ContactId h) { return !state.made(h); });
    if (gone != held_by.end()) {
      known[i].missed = *gone;
      continue;
    }
    std::rotate(known.begin(), known.begin() + static_cast<std::ptrdiff_t>(i),
                known.begin() + static_cast<std::ptrdiff_t>(i) + 1);
    return known.front().refusals;
  }
  return nullptr;
}

void RefusalMemory::keep(ContactId c, const SharedRefusals& refusals) {
  const std::vector<Refusal>& each = refusals->each();
  if (each.empty()) return;
  const auto stays_for_another = [](const Refusal& r) { return r.why == Refusal::Why::no_way && !r.held_by.empty(); };
  if (std::any_of(each.begin(), each.end(), stays_for_another)) return;
  auto& known = known_[at(c)];
  known.insert(known.begin(), Known{refusals});
  if (known.size() > most_) known.pop_back();
}

}  // namespace dryfit::planner
