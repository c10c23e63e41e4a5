#pragma once
/// A board on one pipe, turned about it so that it passes what is in its straight way. Private to planner/moves.
#include <optional>

#include "planner/moves/sliding_piece.hpp"

namespace dryfit::planner {

/// Where a pipe that stands in an open slot is let out of it when the board turns about `centre`: the sense (+1 or -1,
/// right-handed about the axis of the board's normal), or 0 when turning moves it along the slot's wall only.
[[nodiscard]] int sense_of_slot(const model::Board& board, const model::Hole& slot, model::Vec3 centre);

/// The angle, without sign, from which on the board is clear of what stands in the slot when it turns in that sense
/// about `centre`, less an overlap of `touch`; nothing when a quarter turn does not free it.
[[nodiscard]] std::optional<double> leaves_slot_at(const model::Board& board, const model::Solid& standing,
                                                   model::Vec3 centre, int sense, double touch);

/// K of `s` is a board that only its hole `c` holds: it is turned about the hole from its place to some angle, both
/// ways round, and slides from there. Nothing, with why not, when no angle serves; and nothing where the line of the
/// hole itself is the trouble.
[[nodiscard]] std::optional<Move> slid_turned_aside(SlidingPiece& s, ContactId c, Attempt& attempt);

}  // namespace dryfit::planner
