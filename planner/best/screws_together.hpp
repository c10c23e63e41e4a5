#pragma once
/// Among orders of one effort, the one that screws a piece to the room in one go.
#include "planner/best/best_answer.hpp"

namespace dryfit::planner {

/// Drives the screws of a piece into floor, walls and ceiling one after the other where only other pieces are worked on
/// in between, and where that is as legal and costs the same. Deterministic. O(moves^2).
void drive_screws_together(Undoer& undoer, const Effort& effort, BestOrder& best);

}  // namespace dryfit::planner
