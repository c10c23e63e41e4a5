#pragma once
/// Smallest sets of elements that meet others, by trying element after element. Private to hitting_set.
#include <limits>
#include <vector>

#include "planner/early/hitting_answer.hpp"
#include "planner/early/hitting_parts.hpp"

namespace dryfit::planner {

inline constexpr int kNoHittingLimit = std::numeric_limits<int>::max() / 2;

/// Branch and bound over the smallest set not met yet, among those that contain none of `forbidden` whole and have at
/// most `most` elements. Every node costs one of the budget; below nothing it ends with what is known.
[[nodiscard]] HittingSet search_hitting_set(std::vector<SetToMeet> sets, const std::vector<std::vector<int>>& forbidden,
                                            int most, long long& budget);

/// Sets, small ones first, that share no element: each needs one of its own. Those that always count.
[[nodiscard]] int apart_from_each_other(const std::vector<SetToMeet>& sets);

}  // namespace dryfit::planner
