#include "planner/fit/turn_memory.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

TurnMemory::Key TurnMemory::key_of(const TurnProgram& program, const Component& part) {
  Key key;
  const auto add = [&key](auto... values) { (key.push_back(static_cast<double>(values)), ...); };
  std::vector<int> ranks;
  for (const Group& group : part.groups) ranks.push_back(group.limits.rank);
  std::sort(ranks.begin(), ranks.end());
  ranks.erase(std::unique(ranks.begin(), ranks.end()), ranks.end());
  add(program.node_limit, part.groups.size(), part.shifts.size(), part.rows.size(), part.whole.size());
  for (const Group& group : part.groups) {
    const TurnUnknown& limits = group.limits;
    // Only which rank is before which counts.
    const auto rank = std::lower_bound(ranks.begin(), ranks.end(), limits.rank) - ranks.begin();
    add(group.members.size(), limits.low, limits.high, limits.soft_low, limits.soft_high, rank);
  }
  for (std::size_t r = 0; r < part.rows.size(); ++r) {
    const TurnRow& row = program.rows[at(part.rows[r])];
    add(row.gap, row.tolerance, row.may_open, row.above_only, part.row_groups[r].size(), part.row_shifts[r].size());
    for (const auto& [group, mm] : part.row_groups[r]) add(group, mm);
    for (const auto& [shift, mm] : part.row_shifts[r]) add(shift, mm);
  }
  for (const std::vector<int>& set : part.whole) {
    add(set.size());
    for (const int group : set) add(group);
  }
  return key;
}

const SolvedComponent* TurnMemory::find(const Key& key) const {
  const auto found = solved_.find(key);
  return found == solved_.end() ? nullptr : &found->second;
}

void TurnMemory::keep(const Key& key, SolvedComponent solved) { solved_.emplace(key, std::move(solved)); }

}  // namespace dryfit::planner
