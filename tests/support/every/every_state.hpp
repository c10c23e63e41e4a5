#pragma once
/// All states that legal undo moves reach from the finished thing, one by one: the plain answer to every question about
/// orders, for small examples.
#include <map>
#include <vector>

#include "planner/early/undo_rules.hpp"

namespace dryfit::tests {

using Made = std::vector<char>;

/// Everything that is made in `part` is made in `whole`.
[[nodiscard]] bool contains(const Made& whole, const Made& part);

class EveryState {
 public:
  /// Walks through every state that can be reached from `start` (everything made when empty). Fails the test beyond
  /// `most` states.
  explicit EveryState(planner::UndoRules& rules, Made start = {}, std::size_t most = 400000);

  struct Reached {
    int distance = 0;  ///< fewest moves from the start
    std::vector<std::vector<planner::ContactId>> moves;
  };
  [[nodiscard]] const std::map<Made, Reached>& states() const { return states_; }
  [[nodiscard]] bool buildable() const;
  /// No reachable state has all of `made` made and none of `gone`.
  [[nodiscard]] bool never(const std::vector<planner::ContactId>& made,
                           const std::vector<planner::ContactId>& gone) const;
  /// Fewest moves until none of the contacts is made; -1 when that cannot be.
  [[nodiscard]] int fewest(const std::vector<planner::ContactId>& gone) const;
  /// Fewest moves that undo more than contacts of `own` until none of those is made, over all ways; -1 when that cannot
  /// be.
  [[nodiscard]] int fewest_others(const std::vector<planner::ContactId>& own) const;
  /// Number of ways to come apart completely.
  [[nodiscard]] double orders() const;

 private:
  std::map<Made, Reached> states_;
};

}  // namespace dryfit::tests
