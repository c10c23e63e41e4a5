#include "planner/effort/tilt.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "model/geometry/at.hpp"
#include "model/measure/over_all.hpp"
#include "planner/effort/support_polygon.hpp"

namespace dryfit::planner {

using model::Bounds;
using model::joined;
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

bool is_confined(const model::Frame& frame) {
  return room_along(frame, model::kUp) || room_along(frame, model::kRight) || room_along(frame, model::kBack);
}

namespace {

/// Where the finished frame stands, along an axis.
struct Feet {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
};

std::array<Feet, 2> feet_of(const model::Frame& frame, const Effort& effort) {
  const auto parts = static_cast<PartId>(frame.parts.size());
  double floor = std::numeric_limits<double>::infinity();
  for (PartId p = 0; p < parts; ++p) floor = std::min(floor, effort.bounds(p).lo.z);
  std::array<Feet, 2> feet;
  for (PartId p = 0; p < parts; ++p) {
    const Bounds& box = effort.bounds(p);
    if (box.lo.z > floor + kFootBand) continue;
    for (const int axis : {0, 1}) {
      Feet& foot = feet[at(axis)];
      foot.low = std::min(foot.low, box.lo[axis]);
      foot.high = std::max(foot.high, box.hi[axis]);
    }
  }
  return feet;
}

/// How much shorter a part stands while the flange of a way in is screwed in deeper.
double shorter_by(const std::vector<WayIn>& ways, const Effort& effort, PartId part, double middle) {
  double by = 0.0;
  for (const WayIn& way : ways) {
    if (way.flange == kNone || !way.upright) continue;
    const bool below = effort.bounds(way.flange).lo.z < middle;
    if (below == (part != way.flange)) by = std::max(by, way.gives);
  }
  return by;
}

}  // namespace

/// About its longer lower edge a piece of height h and depth d rises to the diagonal of h and d. Where it stands on
/// feet in the end it may be tilted about their edge instead, and what stands out above them does not count: the least
/// of all is told.
Tilt tilt_of(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts) {
  Tilt tilt;
  Bounds box = effort.bounds(parts.front());
  for (const PartId p : parts) box = joined(box, effort.bounds(p));
  const Vec3 size = box.hi - box.lo;
  tilt.room_height = room_along(frame, model::kUp);
  const std::vector<WayIn> ways = tilt.room_height ? ways_in(frame) : std::vector<WayIn>{};
  const std::array<Feet, 2> feet = feet_of(frame, effort);
  const bool stands = surface_facing(frame, model::kUp) != nullptr;
  tilt.fits = false;
  tilt.diagonal = std::numeric_limits<double>::infinity();
  for (const int axis : size.x < size.y ? std::array{0, 1} : std::array{1, 0}) {
    double diagonal = std::hypot(size.z, size[axis]);
    const Feet& foot = feet[at(axis)];
    double about_low = 0.0, about_high = 0.0;
    for (const PartId p : parts) {
      const Bounds& one = effort.bounds(p);
      const double high = one.hi.z - box.lo.z - shorter_by(ways, effort, p, (box.lo.z + box.hi.z) / 2.0);
      about_low = std::max(about_low, std::hypot(high, std::max(0.0, one.hi[axis] - foot.low)));
      about_high = std::max(about_high, std::hypot(high, std::max(0.0, foot.high - one.lo[axis])));
    }
    if (stands) diagonal = std::min({diagonal, about_low, about_high});
    const auto across = room_along(frame, axis == 0 ? model::kRight : model::kBack);
    std::string obstacle;
    if (tilt.room_height && diagonal > *tilt.room_height) {
      obstacle = surface_facing(frame, model::kDown)->id;
    } else if (across && size.z > *across) {
      obstacle = surface_facing(frame, axis == 0 ? model::kLeft : model::kFront)->id;
    }
    const bool fits = obstacle.empty();
    if (fits == tilt.fits ? diagonal < tilt.diagonal : fits) {
      tilt.diagonal = diagonal;
      tilt.obstacle = obstacle;
      tilt.fits = fits;
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
      way.upright = frame.surfaces[s].normal.axis() == 2;
      bool touches[2] = {false, false};
      for (const model::Fastening& f : frame.fastenings) {
        if (f.other != model::kRoom) continue;
        const auto surface = at(f.surface);
        if (surface != s && surface != t) continue;
        touches[surface == s ? 0 : 1] = true;
        if (f.kind != model::Fastening::Kind::flange_to_surface) continue;
        const model::Part& flange = frame.part(f.part);
        for (const model::Port& port : flange.ports) {
          if (port.joint == kNone || !parallel(port.facing, frame.surfaces[s].normal)) continue;
          const model::Joint& joint = frame.joint(port.joint);
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
