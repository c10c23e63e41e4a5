#pragma once
/// Where a flange goes that is screwed on, or a board on a wall, by what can be measured there.
#include <string>

#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

/// "Centre of FR: 31-15/16 in to the right of FL, in line with it.", by the first flange that was screwed to the same
/// surface or board; of that one the distances from other surfaces, or from the edges of the board. Of a board that is
/// screwed to a wall, as far as nothing else gives its place. "" where the step fastens neither, or there is nothing to
/// measure from. `step`: index into the steps of the order. O(steps).
[[nodiscard]] std::string place_text(const model::Frame& frame, const planner::ContactList& list,
                                     const std::vector<planner::Step>& steps, std::size_t step);

}  // namespace dryfit::cli
