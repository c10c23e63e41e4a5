#pragma once
/// Distance between convex solids and linear sweeps of them.
/// Notation: A swept along s is the set { a + t s : a in A, 0 <= t <= 1 }, convex again.
#include "model/geometry/solid.hpp"
#include "model/geometry/wood.hpp"

namespace dryfit::model {

/// Overlap that counts as touching, mm: bodies that share less than this are no hit.
inline constexpr double kTouch = 0.5;

/// A lower bound on the distance between A swept along `sweep` and B that is within `precision` of the true
/// distance; 0 when they overlap. Gilbert-Johnson-Keerthi on support functions.
[[nodiscard]] double distance(const Solid& a, const Solid& b, Vec3 sweep = {}, double precision = 0.01);

/// As distance(), for `turned` turned by `angle` (rad, right-handed) about the line through `pivot` along axis number
/// `axis`. Stops early, with a lower bound, once it exceeds `enough`.
[[nodiscard]] double distance_turned(const Solid& turned, Vec3 pivot, int axis, double angle, const Solid& still,
                                     double enough);

/// True when A, moved anywhere from 0 to `sweep`, overlaps B by `touch` or more: made smaller by half of it on every
/// side, each, they still meet. The same answer whichever of the two is the one that moves. A board is its wood.
[[nodiscard]] bool hits(Thing a, Thing b, Vec3 sweep = {}, double touch = kTouch);
[[nodiscard]] bool hits(const Solid& a, const Solid& b, Vec3 sweep = {}, double touch = kTouch);

/// How far `a` can move along the unit vector of `d` before it touches what it would hit (see hits) within `limit`;
/// 0 when it overlaps already, `limit` when nothing is hit. Within 0.01 mm for faces that meet flat.
[[nodiscard]] double free_travel(Thing a, Thing b, Direction d, double limit, double touch = kTouch);
[[nodiscard]] double free_travel(const Solid& a, const Solid& b, Direction d, double limit, double touch = kTouch);

/// Bounds of what the solid passes on its way.
[[nodiscard]] Bounds swept_bounds(const Solid& solid, Vec3 sweep);

/// Farthest coordinate of the solid along d (support value), mm.
[[nodiscard]] double reach_along(const Solid& solid, Vec3 unit);

}  // namespace dryfit::model
