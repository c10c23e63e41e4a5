#pragma once
/// What stands as if it were joined although the frame file joins it to nothing: most often a `to:` or `from:` that was
/// left out. Not a fault, for a flange may also just lie on something. Lengths in mm.
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// A flange whose mounting face lies on a surface or on a board's face, to which nothing screws it.
struct BareFlange {
  PartId flange = model::kNone;
  PartId board = model::kNone;  ///< the board it lies on, or kNone
  int surface = model::kNone;   ///< the surface it lies on, or kNone
  model::Direction face;        ///< the way in which that face looks
};
/// In the order of the parts, surfaces first. O(flanges * surfaces + flanges * log(boards) + boards that lie level).
[[nodiscard]] std::vector<BareFlange> bare_flanges(const model::Frame& frame);

/// A free end of a pipe that stands in a free outlet of its size, on its axis, where a joint would hold it.
struct BareEnd {
  PartId pipe = model::kNone;
  PartId fitting = model::kNone;
  int port = 0;        ///< of the fitting
  double depth = 0.0;  ///< how far it is inside
};
/// In the order of the pipes. O(free ends * log(free ends)) where they are not all beside one another.
[[nodiscard]] std::vector<BareEnd> bare_ends(const model::Frame& frame);

}  // namespace dryfit::planner
