#pragma once
/// Boards: their places, then their holes and carriers.
#include "model/placing/placer.hpp"

namespace dryfit::model {

/// Places the board when all that it hangs on is placed; true when it was.
bool try_board(Placer& in, int board);
/// What an unplaced board waits for; told.
void tell_unplaced_board(Placer& in, int board);
/// Holes, carriers, fixings: positions, checks and closures, once everything is placed.
void finish_boards(Placer& in);

}  // namespace dryfit::model
