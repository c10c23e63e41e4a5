#pragma once
/// Mass, centre of mass and moments of inertia: what a hand feels when it lifts a piece or turns it about an axis.
/// Notation: the inertia tensor is taken about the centre of mass, along the room's axes.
/// Units: kg, mm for places, kg m^2 for moments of inertia.
#include <array>

#include "model/frame/frame.hpp"
#include "model/geometry/turn.hpp"

namespace dryfit::model {

/// A rigid body as far as lifting and turning go. Masses at one place add up by operator+=.
struct MassProperties {
  double mass = 0.0;  ///< kg
  Vec3 centre;        ///< centre of mass, mm
  /// Tensor about the centre, kg m^2: {xx, yy, zz, xy, yz, zx}; xx is the integral of y^2 + z^2, xy that of -x y.
  std::array<double, 6> tensor{};

  /// Both bodies as one (parallel axis theorem). A body without mass changes nothing.
  MassProperties& operator+=(const MassProperties& other);
};

/// A uniform tube with flat ends from `a` to `b`; inner radius 0: a full cylinder. Radii in mm.
[[nodiscard]] MassProperties tube(double mass, Vec3 a, Vec3 b, double outer, double inner);
/// A uniform box along the room's axes.
[[nodiscard]] MassProperties slab(double mass, Vec3 lo, Vec3 hi);
/// A part of a frame: a pipe as a tube of its table's wall, a board as a box, a fitting as its full bodies, which share
/// its mass by volume. O(bodies).
[[nodiscard]] MassProperties mass_properties(const Frame& frame, PartId part);

/// Moment of inertia about an axis anywhere, kg m^2.
[[nodiscard]] double inertia_about(const MassProperties& body, const Axis& axis);

}  // namespace dryfit::model
