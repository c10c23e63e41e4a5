#pragma once
/// Rigid motions of two convex solids judged by stepping through them: the slow, independent counterpart of the
/// program's own clearance tests. Nothing here knows a half-plane, a shadow or a closed form of a sweep: the body is
/// put at one angle after another and its distance to the other body is taken there.
/// Notation: "hits by touch" means that the moving solid, made smaller by `touch` on every side, still meets the
/// other. Lengths in mm, angles in radians.
#include "model/geometry/solid.hpp"

namespace dryfit::test {

using model::Direction;
using model::Solid;
using model::Vec3;

/// Line of a turn: through `point`, along the unit vector of `along`.
struct TurnAxis {
  Vec3 point;
  Direction along;
};

/// How many distances were taken since the program started: the work, whatever the machine.
[[nodiscard]] long long distances_taken();

/// A lower bound on the distance of two solids where they are, 0 when they meet.
[[nodiscard]] double apart(const Solid& a, const Solid& b);

/// Does `a`, carried from where it is along `travel`, hit `b` by `touch`?
[[nodiscard]] bool slide_hits(const Solid& a, const Solid& b, Vec3 travel, double touch);

/// Does `a`, turned about the axis from 0 to `angle` (a full turn or a signed part of it) and shifted anywhere from 0
/// to `shift` at each angle, hit `b` by `touch`? Steps are as long as the distance found allows and never shorter
/// than 0.01 mm at the rim.
[[nodiscard]] bool turn_hits_sampled(const Solid& a, const Solid& b, const TurnAxis& axis, Vec3 shift, double angle,
                                     double touch);

/// Does `a`, turned to `angle` about the axis and then carried along `travel`, hit `b` by `touch`?
[[nodiscard]] bool turned_slide_hits(const Solid& a, const Solid& b, const TurnAxis& axis, double angle, Vec3 travel,
                                     double touch);

/// The farthest coordinate along the unit vector `outward` that `a` gets to while it turns about the axis from 0 to
/// `angle` and shifts from 0 to `shift`. By points of its rim at 720 angles: within 0.05 mm for a metre of swing.
/// What stays below `nobody_asks_below` need not be exact: then any bound under it may come back.
[[nodiscard]] double turn_reach_sampled(const Solid& a, const TurnAxis& axis, Vec3 shift, double angle, Vec3 outward,
                                        double nobody_asks_below = -1e9);

/// Farthest coordinate of a solid where it is, along the unit vector `outward`.
[[nodiscard]] double reach_of(const Solid& a, Vec3 outward);

/// True for a point in the solid or on its skin.
[[nodiscard]] bool holds_point(const Solid& a, Vec3 p);

/// `p` turned by `angle` about the axis, right-handed.
[[nodiscard]] Vec3 turned(Vec3 p, const TurnAxis& axis, double angle);

}  // namespace dryfit::test
