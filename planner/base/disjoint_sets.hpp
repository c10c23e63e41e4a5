#pragma once
/// Numbers 0..n-1 in sets that only grow together: which parts hang together, which unknowns share an equation.
#include <cstddef>
#include <optional>
#include <vector>

namespace dryfit::planner {

/// Disjoint sets with union by rank (Galler and Fischer 1964; Tarjan 1975). One member stands for each set.
class DisjointSets {
 public:
  /// Every number is a set of its own.
  explicit DisjointSets(std::size_t n);

  /// Every number is a set of its own again.
  void part_all();

  /// The member that stands for the set of `x`: equal for two numbers of one set. O(log n).
  [[nodiscard]] int find(int x) const;
  [[nodiscard]] bool together(int a, int b) const { return find(a) == find(b); }

  /// Of two sets that were made one: the member that stands for both now, and the one that stood for the other until
  /// then. Whoever keeps something beside each set moves it from `gone` to `kept`.
  struct Joined {
    int kept;
    int gone;
  };
  /// Makes the sets of `a` and `b` one; nullopt when they were. O(log n).
  std::optional<Joined> join(int a, int b);

 private:
  std::vector<int> rank_;
  std::vector<int> parent_;
};

}  // namespace dryfit::planner
