#include "planner/base/disjoint_sets.hpp"

#include <algorithm>
#include <numeric>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

DisjointSets::DisjointSets(std::size_t n) : rank_(n, 0), parent_(n) { std::iota(parent_.begin(), parent_.end(), 0); }

void DisjointSets::part_all() {
  std::fill(rank_.begin(), rank_.end(), 0);
  std::iota(parent_.begin(), parent_.end(), 0);
}

int DisjointSets::find(int x) const {
  while (parent_[at(x)] != x) x = parent_[at(x)];
  return x;
}

std::optional<DisjointSets::Joined> DisjointSets::join(int a, int b) {
  const int one = find(a), two = find(b);
  if (one == two) return std::nullopt;
  const int kept = rank_[at(one)] > rank_[at(two)] ? one : two;
  const int gone = kept == one ? two : one;
  parent_[at(gone)] = kept;
  if (rank_[at(kept)] == rank_[at(gone)]) ++rank_[at(kept)];
  return Joined{kept, gone};
}

}  // namespace dryfit::planner
