#pragma once
/// Sets that have to be met, made fewer and cut into parts that share no element. Private to hitting_set.
#include <vector>

namespace dryfit::planner {

/// A set of elements, ascending, that has to be met: always, or only by who picks `once`.
struct SetToMeet {
  static constexpr int kAlways = -1;
  std::vector<int> of;
  int once = kAlways;
};

/// Without the sets that are met whenever another one is. Small ones first. What counts only once may not be empty.
/// O(sets * size * sets that begin with the same element), most of them by one word.
[[nodiscard]] std::vector<SetToMeet> without_implied(std::vector<SetToMeet> sets);

struct HittingParts {
  std::vector<int> forced;                    ///< elements of every smallest choice that is looked for
  std::vector<std::vector<SetToMeet>> parts;  ///< no element is in two of them; small parts first
};

/// Leaves out elements that another one can always stand for, picks what is the last of its set, and cuts what is left
/// into parts: a smallest choice for each of them and what is forced are together a smallest choice for all. Sets are
/// never empty. About O(sets * size^2) a round, few rounds.
[[nodiscard]] HittingParts hitting_parts(std::vector<SetToMeet> sets);

}  // namespace dryfit::planner
