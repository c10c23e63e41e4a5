#pragma once
/// What undoing moves are for, as holds that are not broken yet. Private to fewest moves.
#include <functional>
#include <optional>
#include <set>
#include <vector>

#include "planner/early/wanted.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {

class Goals {
 public:
  /// Ways start in `from`. Must be outlived by what it is given.
  Goals(const State& from, const Wanted& wanted);

  /// A goal that is not reached in the state. nullopt: the state is as wanted. No contacts: it never is.
  [[nodiscard]] std::optional<Hold> open(const State& state);
  /// In a peeler that has run: the smallest hold on what is frozen that follows from the goals not reached. nullopt:
  /// the state is as wanted. No contacts: it never is.
  [[nodiscard]] std::optional<Hold> next_hold(const Peeler& peeler);
  [[nodiscard]] const std::vector<Hold>& all() const { return goals_; }
  /// It has to stay made.
  [[nodiscard]] bool keeps(ContactId c) const { return wanted_.keeps(c) || kept_.contains(c); }
  /// Whatever undoes it asks for what has to stay made: from now on it stays made too.
  void keep(ContactId c) { kept_.insert(c); }

 private:
  const State& from_;
  const Wanted& wanted_;
  std::vector<Hold> goals_;
  std::set<ContactId> kept_;  ///< besides what is wanted so
};

}  // namespace dryfit::planner
