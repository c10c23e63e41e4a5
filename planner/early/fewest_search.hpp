#pragma once
/// The last resort of fewest moves: states one by one. Private to fewest moves.
#include <functional>
#include <vector>

#include "planner/early/goals.hpp"
#include "planner/early/hold_sets.hpp"

namespace dryfit::planner {

struct SearchedStates {
  bool found = false;                       ///< `way` leads to a state as wanted, and no way costs less
  std::vector<std::vector<ContactId>> way;  ///< the contacts of each move
  int at_least = 0;                         ///< no way costs less; `below` when there is none that costs less
  long long states = 0;
};

/// Best-first (A*) over the states that undo moves reach, bounded from below by the holds that are not broken yet, for
/// a way that costs less than `below`. Of the moves of a state only those are tried that can matter now. Ends early
/// when `go_on` says no.
[[nodiscard]] SearchedStates search_states(Undoer& undoer, const State& from, const std::vector<char>& free,
                                           Goals& goals, HoldSets& holds, int below,
                                           const std::function<bool()>& go_on);

}  // namespace dryfit::planner
