#include "planner/tilt.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace dryfit::planner {

using model::Bounds;
using model::kNone;
using model::Vec3;

namespace {

/// Room between two facing surfaces along an axis.
std::optional<double> room_along(const model::Frame& frame, model::Direction axis) {
  const model::Surface* low = surface_facing(frame, axis);
  const model::Surface* high = surface_facing(frame, -axis);
  if (low == nullptr || high == nullptr) return std::nullopt;
  return high->at - low->at;
}

}  // namespace

const model::Surface* surface_facing(const model::Frame& frame, model::Direction normal) {
  const auto found = std::find_if(frame.surfaces.begin(), frame.surfaces.end(),
                                  [&](const model::Surface& s) { return s.normal == normal; });
  return found == frame.surfaces.end() ? nullptr : &*found;
}

/// Tilted about its longer lower edge a piece of height h and depth d rises to the diagonal of h and d.
Tilt tilt_of(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts) {
  Tilt tilt;
  Bounds box = effort.bounds(parts.front());
  for (const PartId p : parts) box = joined(box, effort.bounds(p));
  const Vec3 size = box.hi - box.lo;
  tilt.room_height = room_along(frame, model::kUp);
  tilt.fits = false;
  for (const int axis : size.x < size.y ? std::array{0, 1} : std::array{1, 0}) {
    const double diagonal = std::hypot(size.z, size[axis]);
    const auto across = room_along(frame, axis == 0 ? model::kRight : model::kBack);
    std::string obstacle;
    if (tilt.room_height && diagonal > *tilt.room_height) {
      obstacle = surface_facing(frame, model::kDown)->id;
    } else if (across && size.z > *across) {
      obstacle = surface_facing(frame, axis == 0 ? model::kLeft : model::kFront)->id;
    }
    if (tilt.diagonal == 0.0 || (obstacle.empty() && !tilt.fits)) {
      tilt.diagonal = diagonal;
      tilt.obstacle = obstacle;
      tilt.fits = obstacle.empty();
    }
  }
  return tilt;
}

std::vector<WayIn> ways_in(const model::Frame& frame) {
  std::vector<WayIn> ways;
  for (std::size_t s = 0; s < frame.surfaces.size(); ++s) {
    for (std::size_t t = s + 1; t < frame.surfaces.size(); ++t) {
      if (frame.surfaces[s].normal != -frame.surfaces[t].normal) continue;
      WayIn way;
      way.surfaces = {frame.surfaces[s].id, frame.surfaces[t].id};
      bool touches[2] = {false, false};
      for (const model::Fastening& f : frame.fastenings) {
        if (f.other != model::kRoom) continue;
        const auto surface = static_cast<std::size_t>(f.surface);
        if (surface != s && surface != t) continue;
        touches[surface == s ? 0 : 1] = true;
        if (f.kind != model::Fastening::Kind::flange_to_surface) continue;
        const model::Part& flange = frame.parts[static_cast<std::size_t>(f.part)];
        for (const model::Port& port : flange.ports) {
          if (port.joint == kNone || !parallel(port.facing, frame.surfaces[s].normal)) continue;
          const model::Joint& joint = frame.joints[static_cast<std::size_t>(port.joint)];
          const double spare = std::floor((joint.wrench - joint.engaged) / joint.pitch + 1e-6);
          if (spare < 1.0 || spare <= way.turns) continue;
          way.flange = f.part;
          way.turns = spare;
          way.gives = spare * joint.pitch;
        }
      }
      if (touches[0] && touches[1]) ways.push_back(std::move(way));
    }
  }
  return ways;
}

}  // namespace dryfit::planner
