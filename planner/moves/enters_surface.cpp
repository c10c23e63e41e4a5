#include "planner/moves/enters_surface.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

bool enters_surface(const model::Frame& frame, const BodyIndex& index, PartId part, model::Vec3 sweep, double touch) {
  for (int i = index.first(part); i < index.last(part); ++i) {
    const model::Solid& solid = index.bodies()[at(i)].solid;
    const bool enters = std::any_of(frame.surfaces.begin(), frame.surfaces.end(), [&](const model::Surface& surface) {
      const double reach = swept_reach(solid, sweep, -surface.normal.unit());
      return depth_in(surface, reach) >= touch;
    });
    if (enters) return true;
  }
  return false;
}

}  // namespace dryfit::planner
