#pragma once
/// The smallest set of elements that meets each of some sets.
#include <vector>

namespace dryfit::planner {

struct HittingSet {
  std::vector<int> elements;  ///< ascending; the smallest set when `proven`, else the best found
  int at_least = 0;           ///< no hitting set is smaller
  bool possible = true;       ///< false: there is none
  bool proven = false;        ///< what is said is final; else the budget ended first
};

/// Sets hold elements, any numbers from 0. An empty set cannot be hit: then `possible` is false. Branch and bound over
/// the smallest set not met yet, bounded below by sets that have nothing in common; gives up after `budget` nodes.
[[nodiscard]] HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets, long long budget);

/// A set, never empty, that has to be hit only by who picks `once`.
struct ImpliedSet {
  int once = 0;
  std::vector<int> of;
};
/// The same with sets that count only once some element is picked.
[[nodiscard]] HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets,
                                              const std::vector<ImpliedSet>& implied, long long budget);

/// The same among those that contain none of `forbidden` whole and have at most `most` elements. Small numbers are
/// preferred where sizes are equal.
[[nodiscard]] HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets,
                                              const std::vector<std::vector<int>>& forbidden, int most,
                                              long long budget);

}  // namespace dryfit::planner
