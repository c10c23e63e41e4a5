#pragma once
/// The bodies that legality is judged on: flat-ended cylinders and boxes along the axes. All convex.
#include "model/geometry/direction.hpp"
#include "model/geometry/vec.hpp"

namespace dryfit::model {

/// A box along the axes, or a cylinder from `a` to `b` of `radius`, with flat ends. Millimetres.
struct Solid {
  enum class Shape { cylinder, box };
  Shape shape = Shape::cylinder;
  Vec3 a;               ///< cylinder: one end of the axis; box: lowest corner
  Vec3 b;               ///< cylinder: other end; box: highest corner
  double radius = 0.0;  ///< cylinder only
  Direction along;      ///< cylinder only: exact direction of b - a

  friend bool operator==(const Solid&, const Solid&) = default;
};

/// Axis-parallel bounds, lo <= hi.
struct Bounds {
  Vec3 lo;
  Vec3 hi;
};

[[nodiscard]] Solid cylinder(Vec3 from, Direction along, double length, double radius);
[[nodiscard]] Solid box(Vec3 lo, Vec3 hi);
/// Exact bounds; O(1).
[[nodiscard]] Bounds bounds_of(const Solid& solid);
/// The solid made smaller by `by` on every side (radius and both ends); sizes stop at zero.
[[nodiscard]] Solid shrunk(Solid solid, double by);
[[nodiscard]] Solid moved(Solid solid, Vec3 by);
/// mm^3.
[[nodiscard]] double volume(const Solid& solid);

}  // namespace dryfit::model
