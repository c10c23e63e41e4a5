#pragma once
/// Boards: their places, then their holes and carriers.
#include "model/placing/placer.hpp"

namespace dryfit::model {

/// Places the board when all that it hangs on is placed; true when it was.
bool try_board(Placer& in, int board);
/// Tells what the board's own lines leave open of its place; false when nothing.
bool tell_board_without_place(const DraftBoard& board, Faults& faults);
/// What an unplaced board waits for; told.
void tell_unplaced_board(Placer& in, int board);
/// Holes, carriers, fixings: positions, checks and closures, once everything is placed.
void finish_boards(Placer& in);

}  // namespace dryfit::model
