#include "planner/effort/tilt.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
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

/// How much lower a part of standing work is while the flanges of its ways in are screwed in deeper: those that are on
/// the work and are not being screwed on just now.
class Lowered {
 public:
  Lowered(const model::Frame& frame, const std::vector<PartId>& parts, const Move* move = nullptr) {
    const auto turned = [&](PartId p) {
      return move != nullptr && (move->moving == std::vector{p} || move->holding == std::vector{p});
    };
    const auto on_it = [&](PartId p) { return std::find(parts.begin(), parts.end(), p) != parts.end(); };
    for (const WayIn& way : ways_in(frame)) {
      if (!way.upright) continue;
      const bool up = surface_facing(frame, model::kUp)->id == way.surfaces[0];
      below_ = way.ends[up ? 0 : 1];
      above_ = way.ends[up ? 1 : 0];
    }
    std::erase_if(below_, [&](const Give& give) { return !on_it(give.flange); });
    std::erase_if(above_, [&](const Give& give) { return !on_it(give.flange) || turned(give.flange); });
    // A flange that is screwed on from below is not in yet: nothing comes down on it.
    lowers_ = !below_.empty() &&
              std::none_of(below_.begin(), below_.end(), [&](const Give& give) { return turned(give.flange); });
  }
  [[nodiscard]] double of(PartId part) const {
    double by = 0.0;
    if (lowers_ && !has(below_, part)) by += below_.front().gives;
    if (has(above_, part)) by += above_.front().gives;
    return by;
  }

 private:
  static bool has(const std::vector<Give>& gives, PartId part) {
    return std::any_of(gives.begin(), gives.end(), [&](const Give& give) { return give.flange == part; });
  }
  std::vector<Give> below_, above_;
  bool lowers_ = false;
};

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
  const Lowered lowered(frame, parts);
  double top = -std::numeric_limits<double>::infinity();
  for (const PartId p : parts) top = std::max(top, effort.bounds(p).hi.z - lowered.of(p));
  const double tall = std::max(0.0, top - box.lo.z);
  const std::array<Feet, 2> feet = feet_of(frame, effort);
  const bool stands = surface_facing(frame, model::kUp) != nullptr;
  tilt.fits = false;
  tilt.diagonal = std::numeric_limits<double>::infinity();
  for (const int axis : size.x < size.y ? std::array{0, 1} : std::array{1, 0}) {
    double diagonal = std::hypot(tall, size[axis]);
    const Feet& foot = feet[at(axis)];
    double about_low = 0.0, about_high = 0.0;
    for (const PartId p : parts) {
      const Bounds& one = effort.bounds(p);
      const double high = one.hi.z - box.lo.z - lowered.of(p);
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

std::optional<double> height_of_room(const model::Frame& frame) { return room_along(frame, model::kUp); }

double headroom_missing(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts,
                        const Move& move) {
  const std::optional<double> room = height_of_room(frame);
  if (!room || move.travel.z == 0.0) return 0.0;
  const Lowered lowered(frame, parts, &move);
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const PartId p : parts) {
    const bool moves = std::binary_search(move.moving.begin(), move.moving.end(), p);
    const double off = moves ? move.travel.z : 0.0;
    low = std::min(low, effort.bounds(p).lo.z + off);
    high = std::max(high, effort.bounds(p).hi.z + off - lowered.of(p));
  }
  return high - low - *room - model::kTouch;  // what closes up by less is room enough
}

namespace {

/// The flanges against one surface that can all give, each by as many turns as the least of them.
std::vector<Give> gives_at(const model::Frame& frame, int surface) {
  const model::Surface& wall = frame.surface(surface);
  std::vector<Give> gives;
  double turns = std::numeric_limits<double>::infinity();
  std::vector<char> is_flange(frame.parts.size(), 0);
  for (const model::Fastening& f : frame.fastenings) {
    if (f.other != model::kRoom || f.surface != surface) continue;
    if (f.kind != model::Fastening::Kind::flange_to_surface) return {};
    is_flange[at(f.part)] = 1;
    double spare = 0.0, pitch = 0.0;
    for (const model::Port& port : frame.part(f.part).ports) {
      if (port.joint == kNone || !parallel(port.facing, wall.normal)) continue;
      const model::Joint& joint = frame.joint(port.joint);
      spare = std::floor((joint.wrench - joint.engaged) / joint.pitch + 1e-6);
      pitch = joint.pitch;
    }
    turns = std::min(turns, spare);
    gives.push_back({f.part, 0.0, pitch});
  }
  if (turns < 1.0) return {};
  // What else stands against the surface does not get shorter.
  const Vec3 in = -wall.normal.unit();
  const double plane = -wall.at * wall.normal.unit()[wall.normal.axis()];
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
    if (is_flange[at(p)] != 0) continue;
    for (const model::Solid& solid : frame.part(p).solids) {
      if (reach_along(solid, in) > plane - kFootBand) return {};
    }
  }
  for (Give& give : gives) {
    give.turns = turns;
    give.gives *= turns;
  }
  return gives;
}

}  // namespace

std::vector<WayIn> ways_in(const model::Frame& frame) {
  std::vector<WayIn> ways;
  for (int s = 0; s < static_cast<int>(frame.surfaces.size()); ++s) {
    for (int t = s + 1; t < static_cast<int>(frame.surfaces.size()); ++t) {
      if (frame.surface(s).normal != -frame.surface(t).normal) continue;
      const auto touches = [&](int surface) {
        return std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                           [&](const model::Fastening& f) { return f.other == model::kRoom && f.surface == surface; });
      };
      if (!touches(s) || !touches(t)) continue;
      WayIn way;
      way.surfaces = {frame.surface(s).id, frame.surface(t).id};
      way.upright = frame.surface(s).normal.axis() == 2;
      way.ends[0] = gives_at(frame, s);
      way.ends[1] = gives_at(frame, t);
      ways.push_back(std::move(way));
    }
  }
  return ways;
}

}  // namespace dryfit::planner
