#pragma once
/// The round bodies of a frame as they are drawn: what lies inside another body on the same axis is left out, and the
/// arms of a bend meet at a mitre.
#include <vector>

#include "cli/draw/body/block.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// Where an arm of a fitting ends against another one; it keeps what lies behind the plane.
struct Mitre {
  Plane plane;
  FaceKind kind = FaceKind::crease;  ///< seam between two arms in line
};

/// A cylinder from `from` over `length` along `axis` (length 1), less what its mitres take.
struct Rod {
  model::PartId part = model::kNone;
  Vec3 from;
  Vec3 axis;
  double length = 0.0;
  double radius = 0.0;
  FaceKind start = FaceKind::flat;  ///< crease where the rod was cut off at the face of a thicker one
  FaceKind end = FaceKind::flat;
  std::vector<Mitre> mitres;
  [[nodiscard]] Vec3 to() const { return from + length * axis; }
};

/// Of the shown parts, in order of part and body.
/// Mitres: the arms of one fitting that have the same radius share the space round its centre so that each point
/// goes to the arm whose direction it lies farthest along; arms reach past the centre as far as that lets them.
/// Coaxial rods: the thinner one is cut off where the thicker begins; of equal ones the later. O(n log n) for frames
/// that are not all on one spot.
[[nodiscard]] std::vector<Rod> rods_of(const model::Frame& frame, const std::vector<model::PartId>& shown);

}  // namespace dryfit::cli
