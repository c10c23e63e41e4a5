#pragma once
/// Among orders of one effort, the one with fewer steps: a board that goes over its pipes one after the other goes over
/// them in one go.
#include "planner/best/best_answer.hpp"

namespace dryfit::planner {

/// Two moves that part the same board from its pipes become one wherever between them that is legal, if the whole order
/// costs no more: a board is taken in hand once. A pipe through several boards is left alone, for some of these would
/// have to be held meanwhile. Deterministic. O(moves that slide, squared, * moves between them), bounded.
void make_fewer_steps(Undoer& undoer, const Effort& effort, const Handling& handling, BestOrder& best);

}  // namespace dryfit::planner
