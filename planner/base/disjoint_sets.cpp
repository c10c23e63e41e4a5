#include "planner/base/disjoint_sets.hpp"

#include <boost/pending/disjoint_sets.hpp>
#include <numeric>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

DisjointSets::DisjointSets(std::size_t n) : rank_(n, 0), parent_(n) { std::iota(parent_.begin(), parent_.end(), 0); }

int DisjointSets::find(int x) const {
  while (parent_[at(x)] != x) x = parent_[at(x)];
  return x;
}

std::optional<DisjointSets::Joined> DisjointSets::join(int a, int b) {
  const int one = find(a), two = find(b);
  if (one == two) return std::nullopt;
  boost::disjoint_sets<int*, int*>(rank_.data(), parent_.data()).link(one, two);
  const int kept = find(one);
  return Joined{kept, kept == one ? two : one};
}

}  // namespace dryfit::planner
