#pragma once
/// A laid board in a cage: lifted off what carries it, it has no way out. Private to planner/moves.
#include <functional>
#include <optional>
#include <vector>

#include "planner/state/body_index.hpp"

namespace dryfit::planner {

/// What shuts a board in.
struct Cage {
  std::vector<PartId> parts;  ///< each is needed; a part may be told twice
  bool surfaces = false;      ///< floor, walls or ceiling are needed too
  PartId lid = model::kRoom;  ///< what it is lifted against; kRoom: `lid_surface`
  int lid_surface = model::kNone;
};

/// The cage that a laid board is in, or nothing. A board of shorter side b is shut in when it lies on both sides of its
/// middle each way (outer quarters), something is over the rim of all four edges (an eighth) at b / 4 or less, so that
/// it cannot be tilted by much, and beside each edge, near both corners (b / 10 to 35 b / 100 from them) and no farther
/// off than b / 16, something reaches from the board up to that lid: what is left between is narrower than the board
/// however it is held. Anything less may have a way out that no straight line shows, and is no cage.
/// `counts`: the part stays where it is; asked only of what stands right. O(log n + bodies round the board).
[[nodiscard]] std::optional<Cage> cage_round(const model::Frame& frame, const BodyIndex& index,
                                             const model::Board& board, const std::vector<PartId>& carriers, bool room,
                                             const std::function<bool(PartId)>& counts);

}  // namespace dryfit::planner
