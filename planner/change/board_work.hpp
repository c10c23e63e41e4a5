#pragma once
/// What a drilled board of the old design needs to serve in the new one: which holes it has already, which are new,
/// and which old ones stay open to be seen.
#include <vector>

#include "model/frame/frame.hpp"
#include "planner/change/quarter_turn.hpp"

namespace dryfit::planner {

/// The hole of `after` that a hole of `before` is when the board is laid by `turn`, or -1: known by its place on the
/// board, its diameter and its slot. O(holes).
[[nodiscard]] int same_hole(const model::Board& before, const model::Hole& hole, const model::Board& after,
                            const QuarterTurn& turn);
/// The turn by which the board lies in the new design as it lay in the old one; the first that carries size and face.
[[nodiscard]] const QuarterTurn& as_it_lies(const model::Board& before, const model::Board& after);
/// Laid as before the board lacks a hole that it needs.
[[nodiscard]] bool needs_new_hole(const model::Board& before, const model::Board& after);

/// How the board is laid again.
enum class Laid { as_before, half_turn, quarter_turn, other_face_up };

/// A hole of the new design.
struct NewHole {
  int hole = 0;        ///< index into Board::holes of the new board
  int from = -1;       ///< old hole that it is, or that is opened out or sawn open to it; -1: drilled into whole wood
  bool ready = false;  ///< `from` is just this hole
  int runs_into = -1;  ///< old hole that it breaks into: the bit has no wood on all sides
};

struct BoardWork {
  model::PartId board = model::kNone;  ///< part of the old design
  model::PartId as = model::kNone;     ///< part of the new design
  Laid laid = Laid::as_before;
  std::vector<NewHole> holes;  ///< all holes of the new board, in its order
  std::vector<int> left_open;  ///< old holes that no pipe goes through any more and that show
  [[nodiscard]] bool to_drill() const;
};

/// Work on a board that serves again. When it comes off anyway (`may_turn`) it is laid so that the fewest holes have to
/// be drilled; as before where that is as good. O(turns * holes^2).
[[nodiscard]] BoardWork board_work(const model::Frame& old_frame, model::PartId board, const model::Frame& new_frame,
                                   model::PartId as, bool may_turn);

}  // namespace dryfit::planner
