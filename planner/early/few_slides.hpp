#pragma once
/// Undoing a given set of contacts in few moves.
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/moves/refusal_memory.hpp"

namespace dryfit::planner {

/// Undoes the contacts of `undo`, which peeling can undo without any other: threads, nuts and fastenings as long as one
/// goes, then the slide that takes most at once, and so on. A peeling slides whatever can slide, so that a board comes
/// off pipe after pipe that would come off all four at once a little later. Empty when it gets stuck, which may be
/// where a slide has to come before the thread that parts what slides. One entry a move.
[[nodiscard]] std::vector<std::vector<ContactId>> in_few_slides(Undoer& undoer, const State& from,
                                                                const std::vector<char>& undo, RefusalMemory& memory);

}  // namespace dryfit::planner
