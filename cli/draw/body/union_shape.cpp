#include "cli/draw/body/union_shape.hpp"

#include <algorithm>

namespace dryfit::cli {

bool has_unions(const model::Frame& frame) {
  return std::any_of(frame.parts.begin(), frame.parts.end(),
                     [](const model::Part& part) { return part.union_mate != model::kNone; });
}

model::Frame with_unions_drawn(const model::Frame& frame, const std::vector<model::PartId>& open) {
  model::Frame out = frame;
  for (model::PartId id = 0; id < static_cast<model::PartId>(out.parts.size()); ++id) {
    model::Part& half = out.part(id);
    if (half.union_mate == model::kNone || half.ports.empty() || half.solids.empty()) continue;
    const model::Direction inward = -half.ports.front().facing;  // from the pipe toward the other half
    const model::Vec3 start = half.ports.front().at;
    const double length = half.length, radius = half.solids.front().radius;
    const bool is_open = std::find(open.begin(), open.end(), id) != open.end();
    const auto stretch = [&](double from, double over, double share) {
      return model::cylinder(start + inward.unit() * (from * length), inward, over * length, share * radius);
    };
    if (id < half.union_mate) {
      half.solids = {stretch(0.0, 1.0, 0.72), stretch(is_open ? 0.08 : 0.5, 0.8, 1.0)};
    } else {
      half.solids = {stretch(0.0, 0.6, 0.92), stretch(0.0, 1.0, 0.72)};
    }
  }
  return out;
}

}  // namespace dryfit::cli
