#pragma once
/// How far something has to come apart so that all of it passes an opening. Private to planner/now.
#include <functional>
#include <optional>
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

struct ApartTask {
  std::vector<char> from;  ///< per contact: made
  std::vector<char> kept;  ///< per contact: it stays made; empty: none has to
  /// Besides: for a state that will not do, contacts of which one has to go; may be left empty.
  std::function<std::optional<Hold>(const State&)> besides;
};

/// The fewest undo moves until nothing is made with the room and nothing is too large; of ways with as few one that is
/// less work. No part may be too large by itself, and with all that may go gone the state must do. Bounds are true at
/// any budget. Throws std::logic_error where nothing leads there.
[[nodiscard]] Apart apart_for(Undoer& undoer, UndoCost& cost, const TooLarge& too_large, const ApartTask& task,
                              const NowOptions& options);

}  // namespace dryfit::planner
