#pragma once
/// The cheapest legal way from one half-built state to a later one, in seconds of easy work (undo_cost.hpp).
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/change/change.hpp"
#include "planner/change/undo_cost.hpp"

namespace dryfit::planner {

/// Contacts of each step of an order, first step first.
using StepsOfContacts = std::vector<std::vector<ContactId>>;

struct WayBetween {
  bool possible = false;    ///< legal moves lead from the one to the other; else nothing holds of the rest
  std::vector<Move> moves;  ///< undo moves from the later state to the earlier one, first undone first
  Bounded effort;           ///< of `moves`; turning the assembly and propping it are not in it
  long long states = 0;     ///< searched
};

/// From `earlier` to `later` (per contact: made or not; all that is made in `earlier` is made in `later`). Two ways are
/// known at once: as `order`, an order of the whole frame that a person may go on with, allows, and as peeling goes.
/// A search over at most `budget` undo moves asked for looks for a cheaper one; where it ends in vain the effort is
/// bounded. `order` may be empty.
[[nodiscard]] WayBetween way_between(Undoer& undoer, UndoCost& cost, const std::vector<char>& earlier,
                                     const std::vector<char>& later, const StepsOfContacts& order,
                                     long long budget = 30000, Foreman* foreman = nullptr);

}  // namespace dryfit::planner
