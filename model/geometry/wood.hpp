#pragma once
/// What a board is in every hit test: its box less its holes and slots.
/// A slot ends in a half circle about its centre. The pieces that stand for the wood are flat-sided; they reach into an
/// opening by no more than kRound and never leave wood out.
#include <vector>

#include "model/geometry/solid.hpp"

namespace dryfit::model {

/// How far a flat side may stand inside the round edge of an opening, mm.
inline constexpr double kRound = 0.02;

/// A round hole, or a slot, through the whole thickness.
struct Opening {
  Vec3 centre;  ///< of the hole, or of the slot's round end
  double radius = 0.0;
  Direction open;  ///< a slot: the edge that it runs out to; not valid: a round hole
};

/// The wood of a board: from lo to hi, `normal` the axis number of the thickness.
struct Wood {
  Vec3 lo;
  Vec3 hi;
  int normal = 2;
  std::vector<Opening> openings;
};

/// Convex pieces that together are the wood made smaller by `by` all round (its openings larger), the largest first.
/// Openings that lie outside `region` may be left filled. O(openings near * corners of one).
[[nodiscard]] std::vector<Solid> pieces_of(const Wood& wood, double by, const Bounds& region);

/// A body as the hit tests take it: a solid, or the box of a board together with its wood.
struct Thing {
  const Solid& solid;
  const Wood* wood = nullptr;  ///< null, or without openings: the solid is all there is
  [[nodiscard]] bool pierced() const { return wood != nullptr && !wood->openings.empty(); }
};

}  // namespace dryfit::model
