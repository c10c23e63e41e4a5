#pragma once
/// The full-turn test in the half-plane (r, z) about an axis.
/// Notation: axis a through `point` with unit direction `along`; z is measured along it from `point`, r is the
/// distance from it. A whole turn forgets the angle, so a body is its shadow {(r, z)}; two bodies meet in some
/// turn exactly when their shadows overlap. Every slice of a convex body square to the axis is convex, so its
/// shadow at z is one interval [rmin(z), rmax(z)].
#include "model/geometry/solid.hpp"
#include "model/geometry/wood.hpp"

namespace dryfit::model {

struct Axis {
  Vec3 point;
  Direction along;
};

/// Range of a shadow over a slab of z. Empty when lo > hi.
struct RRange {
  double lo = 1.0;
  double hi = 0.0;
  [[nodiscard]] bool empty() const { return lo > hi; }
};

/// The part of the shadow with z0 <= z <= z1. Exact for cylinders along or square to the axis and for boxes; for
/// oblique cylinders an outer bound within 0.02 mm. O(1).
[[nodiscard]] RRange shadow(const Solid& solid, const Axis& axis, double z0, double z1);

/// z-extent of a solid along the axis, {lo, hi}.
struct ZRange {
  double lo = 0.0;
  double hi = 0.0;
};
[[nodiscard]] ZRange extent_along(const Solid& solid, const Axis& axis);

/// Farthest distance of the solid from the axis (its swing), mm.
[[nodiscard]] double swing_radius(const Solid& solid, const Axis& axis);

/// True when `turning`, turned a full turn about the axis and shifted anywhere from 0 to `shift` mm along it
/// (signed: negative is against `along`), overlaps `still` by `touch` or more: made smaller by half of it on every
/// side, each, they still meet. The same answer whichever of the two turns (the other then with -shift). A board is its
/// wood. Certified: a false is exact; a true that is wrong means that the gap was under 0.05 mm.
[[nodiscard]] bool turn_hits(Thing turning, Thing still, const Axis& axis, double shift, double touch);
[[nodiscard]] bool turn_hits(const Solid& turning, const Solid& still, const Axis& axis, double shift, double touch);

/// Bounds of everything that the solid sweeps in a full turn and a shift along the axis.
[[nodiscard]] Bounds turned_bounds(const Solid& solid, const Axis& axis, double shift);

/// Farthest coordinate along the unit vector `outward` that the solid reaches in a full turn and shifts of 0 to
/// `shift`, mm (support value of the swept body). Within 0.02 mm above.
[[nodiscard]] double turn_reach(const Solid& turning, const Axis& axis, double shift, Vec3 outward);

}  // namespace dryfit::model
