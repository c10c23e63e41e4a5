#pragma once
/// How far something has to come apart so that all of it passes an opening. Private to planner/now.
#include <vector>

#include "planner/change/undo_cost.hpp"
#include "planner/now/too_large.hpp"
#include "planner/now/way_on.hpp"

namespace dryfit::planner {

struct Apart {
  std::vector<Move> moves;  ///< first undone first
  Bounded fewest;           ///< `moves` are at_most
  Bounded effort;           ///< of `moves`; nothing less leads to the same state
  std::vector<char> made;   ///< what is left, per contact
  long long states = 0;     ///< searched
};

/// The fewest undo moves from `from` until nothing is made with the room and nothing is too large; of ways with as few
/// one that is less work. No part may be too large by itself. Bounds are true at any budget.
[[nodiscard]] Apart apart_for(Undoer& undoer, UndoCost& cost, const TooLarge& too_large, const std::vector<char>& from,
                              const NowOptions& options);

}  // namespace dryfit::planner
