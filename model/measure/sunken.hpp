#pragma once
/// What stands in a board as drawn and nowhere else: the drawing lays a board on its first carrier or flange, hands on
/// the highest.
#include "model/frame/frame.hpp"

namespace dryfit::model {

/// Fills Board::sunken of every board of a frame that is placed. O(boards * parts) where a carrier stands too high,
/// else O(carriers).
void find_sunken(Frame& frame);

}  // namespace dryfit::model
