#pragma once
/// The bodies that legality is judged on: flat-ended cylinders and boxes along the axes, and pieces of boards between
/// their openings. All convex.
#include <array>

#include "model/geometry/direction.hpp"
#include "model/geometry/vec.hpp"

namespace dryfit::model {

/// A box along the axes, or a cylinder from `a` to `b` of `radius`, with flat ends. Millimetres.
/// A wedge is a box of which two faces may stand askew: those along `cut` and the thickness. It is only made where a
/// board is cut up for a hit test; parts never have one.
struct Solid {
  enum class Shape { cylinder, box, wedge };
  Shape shape = Shape::cylinder;
  Vec3 a;               ///< cylinder: one end of the axis; box, wedge: lowest corner of the bounds
  Vec3 b;               ///< cylinder: other end; box, wedge: highest corner of the bounds
  double radius = 0.0;  ///< cylinder only
  Direction along;      ///< cylinder only: exact direction of b - a
  int normal = 0;       ///< wedge only: axis number of the thickness
  int cut = 0;          ///< wedge only: axis number along which the askew faces run
  /// Wedge only: coordinates along the third axis, from and to at the lower end of `cut`, from and to at the upper.
  std::array<double, 4> sides{};

  friend bool operator==(const Solid&, const Solid&) = default;
};

/// Axis-parallel bounds, lo <= hi.
struct Bounds {
  Vec3 lo;
  Vec3 hi;
};

[[nodiscard]] Solid cylinder(Vec3 from, Direction along, double length, double radius);
[[nodiscard]] Solid box(Vec3 lo, Vec3 hi);
[[nodiscard]] Solid wedge(Vec3 lo, Vec3 hi, int normal, int cut, const std::array<double, 4>& sides);
/// The eight corners of a box or a wedge; bits 1, 2, 4 of the place say high or low along x, y, z (a wedge: along cut,
/// the third axis, normal), so that corners whose places differ in one bit share an edge.
[[nodiscard]] std::array<Vec3, 8> corners_of(const Solid& solid);
/// Exact bounds; O(1).
[[nodiscard]] Bounds bounds_of(const Solid& solid);
/// The solid made smaller by `by` on every side (radius and both ends); sizes stop at zero. Not of a wedge: the board
/// is made smaller before it is cut up (pieces_of).
[[nodiscard]] Solid shrunk(Solid solid, double by);
[[nodiscard]] Solid moved(Solid solid, Vec3 by);
/// An order of two solids that depends on nothing but where they are: tests that ask in it answer alike, whoever asks.
[[nodiscard]] bool comes_first(const Solid& a, const Solid& b);
/// mm^3.
[[nodiscard]] double volume(const Solid& solid);

}  // namespace dryfit::model
