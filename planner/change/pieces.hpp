#pragma once
/// The pieces of two designs against each other: what serves on, what is bought, what is left over; and what of the
/// work that stays made is carried to another place as a whole.
#include <utility>
#include <vector>

#include "planner/change/board_work.hpp"
#include "planner/change/match.hpp"

namespace dryfit::planner {

/// Unmatched equal pieces are used again before anything is bought.
struct Pieces {
  std::vector<PartId> scrap;  ///< old parts that the new design has no use for as they are, wood and cut pipe
  std::vector<PartId> spare;  ///< old parts left over that are stock pieces and can serve again
  std::vector<PartId> buy;    ///< new parts that nothing old can serve as
  std::vector<std::pair<PartId, PartId>> reused;    ///< old part that serves as a new one in another place
  std::vector<std::pair<PartId, PartId>> replaced;  ///< same id, another piece
  /// Boards that serve on and need a hole, have to be laid otherwise, or show an old hole.
  std::vector<BoardWork> boards;
};
[[nodiscard]] Pieces compare_pieces(const model::Frame& old_frame, const model::Frame& new_frame,
                                    const Matching& matching);

/// Parts that stay joined to each other, two or more, and stand elsewhere in the new design.
struct MovedPiece {
  std::vector<PartId> parts;  ///< of the old design, ascending
  bool turned = false;        ///< it faces another way too
  model::Vec3 by;             ///< how far, mm; of the first part when it is turned
};

/// What stays made after the undoing (`kept`: old contacts) hangs together in pieces; those of them that move. The
/// piece that is screwed to the room never does. O(parts + contacts).
[[nodiscard]] std::vector<MovedPiece> moved_pieces(const model::Frame& old_frame, const ContactList& old_list,
                                                   const model::Frame& new_frame, const Matching& matching,
                                                   const std::vector<ContactId>& kept);

}  // namespace dryfit::planner
