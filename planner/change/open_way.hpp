#pragma once
/// Which way something is slid, and which side turns, from where everything stands.
#include <vector>

#include "planner/change/undo_cost.hpp"

namespace dryfit::planner {

/// A board is slid off its pipes, or they are drawn out of it, by a rule that looks at what hangs together alone: what
/// stands there loose can be put aside. Where another way undoes the same contacts and meets nothing that is still in
/// its place, hands take that one: posts are lifted out of a shelf that lies on its tees. And they turn the lighter side
/// of a thread rather than the heavier one on which the frame stands. What slides goes right after the joint that frees
/// it. Changes `moves`, which are undone one after the other from `state` on, so; each keeps its contacts. What they cost
/// is not counted anew: a way out of a board may lift more. O(moves * parts * log n).
void take_open_ways(Undoer& undoer, const UndoCost& cost, State state, std::vector<Move>& moves);

}  // namespace dryfit::planner
