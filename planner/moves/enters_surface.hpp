#pragma once
/// Parts that would be moved into a wall or the floor. Private to planner/.
#include <algorithm>

#include "model/geometry/convex.hpp"
#include "planner/state/body_index.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// How deep in a surface something is that reaches so far along the direction into it, mm.
[[nodiscard]] inline double depth_in(const model::Surface& surface, double reach) {
  return reach + surface.at * surface.normal.unit()[surface.normal.axis()];
}

/// How far a body that is moved by `sweep` reaches along `in` on its way, mm.
[[nodiscard]] inline double swept_reach(const model::Solid& solid, model::Vec3 sweep, model::Vec3 in) {
  return reach_along(solid, in) + std::max(0.0, dot(sweep, in));
}

/// The part, moved by `sweep`, gets into a surface by `touch` or more. O(bodies of the part * surfaces).
[[nodiscard]] bool enters_surface(const model::Frame& frame, const BodyIndex& index, PartId part, model::Vec3 sweep,
                                  double touch);

}  // namespace dryfit::planner
