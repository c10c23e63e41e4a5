#pragma once
/// Boards that lie on something: what carries them gives them their height, and what stands higher beside it is in the
/// way.
#include "model/frame/frame.hpp"

namespace dryfit::planner {

/// The part's board when that lies on carriers; nullptr for any other part. O(1).
[[nodiscard]] const model::Board* lying_board(const model::Frame& frame, model::PartId part);

/// Of two parts that overlap: the board that would come to lie on the other one, which reaches into it from below and
/// no farther than through its thickness, and so stands higher than what the board is to lie on. kNone: it is another
/// kind of overlap. O(bodies of the two).
[[nodiscard]] model::PartId would_lie(const model::Frame& frame, model::PartId a, model::PartId b);

}  // namespace dryfit::planner
