#pragma once
/// What it costs to swap one part for another while the frame is being built: the price of every change of mind at
/// once, before anybody has thought of a particular one.
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/moves/moves.hpp"
#include "planner/state/named_part.hpp"

namespace dryfit::planner {

/// Undo moves, exact when both are equal.
struct SwapPoint {
  int at_least = 0;
  int at_most = 0;
};

struct SwapPrice {
  NamedPart part;
  std::vector<SwapPoint>
      after;         ///< after 0, 1, ... all steps: moves that take the part out again; 0 while it is not on
  int first_on = 0;  ///< the step that puts it on; up to there a change of it is free
};

/// Prices of taking each of `parts` out after each step of a legal order of the frame. As every part but the one
/// swapped is wanted again, this is the price of replacing it. A step that does not touch the part's cluster changes
/// nothing. `budget` counts undo moves asked for, per part and step; when those of the whole table come to `total`, the
/// rest is priced with as little work as gives any bounds at all; so too when the foreman, told of steps, ends the
/// work.
[[nodiscard]] std::vector<SwapPrice> swap_prices(Undoer& undoer, const std::vector<NamedPart>& parts,
                                                 const std::vector<std::vector<ContactId>>& steps,
                                                 long long budget = 2000, long long total = 400000,
                                                 Foreman* foreman = nullptr);

}  // namespace dryfit::planner
