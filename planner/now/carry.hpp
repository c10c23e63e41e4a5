#pragma once
/// Through a door: what has to come off of what stands, what is made up before the door, what is carried through, what
/// is left for the spot; and the way apart into pieces that pass.
#include <optional>
#include <vector>

#include "planner/now/doorway.hpp"
#include "planner/now/loose_pieces.hpp"
#include "planner/now/way_on.hpp"

namespace dryfit::planner {

/// A piece on its way through.
struct CarriedPiece {
  LoosePiece piece;
  PieceBox box;  ///< all zero where no opening was given
};

struct Carry {
  std::vector<CarriedPiece> too_large;  ///< single parts that do not pass; nothing else holds unless empty
  std::vector<CarriedPiece> pieces;     ///< what is carried, in order of their first parts; single parts too
  std::vector<Move> undo;               ///< from what stands, first undone first; before anything else
  Bounded undo_moves;                   ///< how many; `undo` are at_most
  std::vector<ContactId> kept;          ///< what stays made of what stands, ascending
  std::vector<Step> before;             ///< before the door
  std::vector<Step> on_spot;            ///< behind it, to the finished frame; numbered on
  Bounded spot_moves;                   ///< undo moves that what is done on the spot takes; on_spot are at_most
  Bounded effort;                       ///< of all steps, seconds of easy work; what comes off is not in it
  long long states = 0;                 ///< searched in all
};

/// The order that leaves fewest moves for the spot, and of such one with little effort: what is made before the door is
/// screwed to nothing of the room, and each piece of it passes. Before the door `options.order` is followed, unless
/// another way saves a tenth of the work there. The frame must be buildable. Every step has been judged
/// by replay. Throws std::logic_error should the judge refuse again and again.
[[nodiscard]] Carry carry(const model::Frame& frame, const ContactList& list, const Opening& opening,
                          const NowOptions& options = {});

/// The same from `built` on, which must stand (cannot_stand) and may be locked or fast to the room: first the fewest
/// undo moves until all of it passes and the frame can be completed, then the order that leaves fewest moves for the
/// spot of all those that keep what is left. Where something comes off, `spot_moves.at_least` holds of every order,
/// whatever comes off.
[[nodiscard]] Carry carry(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                          const Opening& opening, const NowOptions& options = {});

struct TakeDown {
  std::vector<CarriedPiece> too_large;  ///< single parts that do not pass; nothing else holds unless empty
  std::vector<CarriedPiece> pieces;     ///< what is left, in order of their first parts; single parts too
  std::vector<Move> undo;               ///< first undone first
  Bounded undo_moves;                   ///< how many; `undo` are at_most
  Bounded effort;                       ///< of `undo`, seconds of easy work
  long long states = 0;                 ///< searched in all
};

/// The fewest undo moves from `built` (which must stand, cannot_stand) until nothing is made with the room and every
/// piece passes the opening, and of such ways one with little effort; with no opening, the least effort until nothing
/// is made at all. Judged by replay, as carry().
[[nodiscard]] TakeDown take_down(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                                 const std::optional<Opening>& opening, const NowOptions& options = {});

}  // namespace dryfit::planner
