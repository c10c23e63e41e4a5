#pragma once
/// A box that turns a quarter about a line: where it ends, how far it reaches, and whether it meets a body on the way.
/// Turning is right-handed about `axis` (along an axis of the room) for sense +1, left-handed for -1.
#include "model/geometry/convex.hpp"

namespace dryfit::planner::judge {

/// The box after the quarter turn; a box along the axes again.
[[nodiscard]] model::Wood quarter_turned(const model::Wood& wood, model::Vec3 pivot, model::Direction axis, int sense);
[[nodiscard]] model::Solid quarter_turned(const model::Solid& box, model::Vec3 pivot, model::Direction axis, int sense);

/// Bounds of all places that the box takes on the way.
[[nodiscard]] model::Bounds quarter_turn_bounds(const model::Solid& box, model::Vec3 pivot, model::Direction axis,
                                                int sense);

/// Farthest coordinate along the unit vector `outward` that the box takes on the way. Exact.
[[nodiscard]] double quarter_turn_reach(const model::Solid& box, model::Vec3 pivot, model::Direction axis, int sense,
                                        model::Vec3 outward);

/// True when the box, somewhere on the way, overlaps `still` by `touch` or more. Certified: a false is exact, since no
/// point of the box moves more than its radius times the angle; a true that is wrong means a gap under 0.05 mm.
[[nodiscard]] bool quarter_turn_hits(const model::Solid& box, model::Vec3 pivot, model::Direction axis, int sense,
                                     const model::Solid& still, double touch);

}  // namespace dryfit::planner::judge
