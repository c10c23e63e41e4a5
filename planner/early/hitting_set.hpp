#pragma once
/// The smallest set of elements that meets each of some sets.
#include <vector>

#include "planner/early/hitting_answer.hpp"

namespace dryfit::planner {

/// Sets hold elements, any numbers from 0. An empty set cannot be hit: then `possible` is false. What is dispensable is
/// left out and what shares no element is searched apart (hitting_parts, hitting_search); gives up after about `budget`
/// nodes. The bound is true at any.
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
