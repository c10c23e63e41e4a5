#pragma once
/// Boards: their places, then their holes and carriers.
#include "model/placing/placer.hpp"

namespace dryfit::model {

/// Places the board when all that it hangs on is placed; true when it was.
bool try_board(Placer& in, int board);
/// What the flanges screwed to a board say of its place: each one where it is up and down, one with an `at` of its own
/// the rest too.
struct FlangesGive {
  bool across = false, height = false;
};
/// Tells what the board's own lines and its flanges leave open of its place; false when nothing.
bool tell_board_without_place(const DraftBoard& board, Faults& faults, const FlangesGive& flanges = {});
/// What an unplaced board waits for; told.
void tell_unplaced_board(Placer& in, int board);
/// Holes, carriers, fixings: positions, checks and closures, once everything is placed.
void finish_boards(Placer& in);

}  // namespace dryfit::model
