#pragma once
/// The pieces that lie about at a moment of the build: what hangs together, what it weighs, what could slide off it.
#include <vector>

#include "planner/effort/effort.hpp"
#include "planner/state/links.hpp"

namespace dryfit::planner {

/// What is picked up as one.
struct LoosePiece {
  std::vector<PartId> parts;  ///< ascending
  bool fastened = false;      ///< the room holds it
  Lift lift;                  ///< mass and the people that lifting it takes
  std::vector<PartId> slack;  ///< boards on it that nothing holds: they slide or fall off when it is carried, ascending
};

/// Parts that made contacts connect, and rings that hold each other (links.hpp), in order of their first part; the room
/// joins nothing. O(parts + contacts).
[[nodiscard]] std::vector<std::vector<PartId>> pieces_in(const ContactList& list, const Links& links,
                                                         const State& state);

/// The same with what is told of them. O(parts + contacts), and one attempt of an undo move a contact of a board.
[[nodiscard]] std::vector<LoosePiece> loose_pieces(Undoer& undoer, const Effort& effort, const Links& links,
                                                   const State& state);

}  // namespace dryfit::planner
