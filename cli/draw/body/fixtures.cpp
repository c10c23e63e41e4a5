#include "cli/draw/body/fixtures.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "model/geometry/at.hpp"
#include "model/geometry/solid.hpp"

namespace dryfit::cli {
namespace {

using model::Bounds;
using model::Fastening;
using model::Frame;
using model::PartId;
using model::Vec3;

constexpr double kTouches = 1.0;  // mm: what ends this near a surface stands on it
constexpr double kSlab = 3.0;     // mm: thickness of a patch

Bounds bounds_of(const model::Part& part) {
  Bounds out{{1e300, 1e300, 1e300}, {-1e300, -1e300, -1e300}};
  for (const model::Solid& solid : part.solids) {
    const Bounds body = model::bounds_of(solid);
    for (int axis = 0; axis < 3; ++axis) {
      out.lo[axis] = std::min(out.lo[axis], body.lo[axis]);
      out.hi[axis] = std::max(out.hi[axis], body.hi[axis]);
    }
  }
  return out;
}

/// A box on a surface, grown by a margin in the surface's plane.
struct Ground {
  Bounds box;
  std::vector<int> fastenings;
  std::vector<PartId> parts;
};

bool overlap(const Bounds& a, const Bounds& b, int normal) {
  for (int axis = 0; axis < 3; ++axis) {
    if (axis != normal && (a.lo[axis] > b.hi[axis] || b.lo[axis] > a.hi[axis])) return false;
  }
  return true;
}

void take_in(Ground& ground, Ground&& other) {
  for (int axis = 0; axis < 3; ++axis) {
    ground.box.lo[axis] = std::min(ground.box.lo[axis], other.box.lo[axis]);
    ground.box.hi[axis] = std::max(ground.box.hi[axis], other.box.hi[axis]);
  }
  ground.fastenings.insert(ground.fastenings.end(), other.fastenings.begin(), other.fastenings.end());
  ground.parts.insert(ground.parts.end(), other.parts.begin(), other.parts.end());
}

/// Until no two overlap; the order of what is left is that of the first of each.
std::vector<Ground> joined(std::vector<Ground> grounds, int normal) {
  for (bool again = true; again;) {
    again = false;
    for (std::size_t i = 0; i < grounds.size(); ++i) {
      for (std::size_t j = grounds.size() - 1; j > i; --j) {
        if (!overlap(grounds[i].box, grounds[j].box, normal)) continue;
        take_in(grounds[i], std::move(grounds[j]));
        grounds.erase(grounds.begin() + static_cast<std::ptrdiff_t>(j));
        again = true;
      }
    }
  }
  return grounds;
}

/// The stretch of a pipe between the faces of the fittings at its ends, from its start along its axis.
std::pair<double, double> bare_stretch(const Frame& frame, const model::Part& pipe) {
  const Vec3 along = pipe.ports[1].facing.unit();
  std::pair<double, double> out{0.0, pipe.length};
  for (std::size_t end = 0; end < 2; ++end) {
    if (pipe.ports[end].joint == model::kNone) continue;
    const model::Joint& joint = frame.joint(pipe.ports[end].joint);
    const double at = dot(frame.part(joint.female).ports[dryfit::at(joint.female_port)].at - pipe.ports[0].at, along);
    if (end == 0) {
      out.first = std::max(out.first, at);
    } else {
      out.second = std::min(out.second, at);
    }
  }
  return out;
}

double radius_of(const model::Part& pipe) {
  for (const model::Solid& solid : pipe.solids) {
    if (solid.shape == model::Solid::Shape::cylinder) return solid.radius;
  }
  return 0.0;
}

/// Bands spread evenly over a stretch of a pipe, for a face square to `down` at `depth` from the pipe's axis.
std::vector<Band> bands_on(const model::Part& pipe, std::pair<double, double> stretch, int count, Vec3 down,
                           double depth) {
  const double radius = radius_of(pipe);
  const double room = stretch.second - stretch.first;
  if (radius <= 0.0 || room <= 1.0 || depth < 0.2 * radius) return {};
  Band band;
  band.along = pipe.ports[1].facing.unit();
  band.down = down;
  band.radius = radius + 2.0;
  band.depth = depth;
  band.width = std::min(std::max(14.0, 1.1 * radius), 0.8 * room / count);
  band.foot = std::max(13.0, 1.1 * radius);
  band.thickness = 2.5;
  std::vector<Band> out;
  for (int i = 0; i < count; ++i) {
    band.at = pipe.ports[0].at + (stretch.first + room * (2 * i + 1) / (2.0 * count)) * band.along;
    out.push_back(band);
  }
  return out;
}

std::vector<Band> straps_of(const Frame& frame, const Fastening& made) {
  const model::Part& pipe = frame.part(made.other);
  const model::Board& board = frame.board(frame.part(made.part).board);
  if (pipe.ports.size() < 2) return {};
  const Vec3 along = pipe.ports[1].facing.unit();
  if (std::abs(along[board.normal]) > 0.05) return {};
  // The part of the pipe that runs along the board.
  std::pair<double, double> stretch = bare_stretch(frame, pipe);
  for (int axis = 0; axis < 3; ++axis) {
    if (axis == board.normal || std::abs(along[axis]) < 1e-6) continue;
    const double a = (board.lo[axis] - pipe.ports[0].at[axis]) / along[axis];
    const double b = (board.hi[axis] - pipe.ports[0].at[axis]) / along[axis];
    stretch = {std::max(stretch.first, std::min(a, b)), std::min(stretch.second, std::max(a, b))};
  }
  const double height = pipe.ports[0].at[board.normal];
  const bool beneath = height < 0.5 * (board.lo[board.normal] + board.hi[board.normal]);
  Vec3 down;
  down[board.normal] = beneath ? 1.0 : -1.0;
  return bands_on(pipe, stretch, made.count, down,
                  beneath ? board.lo[board.normal] - height : height - board.hi[board.normal]);
}

std::vector<Band> clips_of(const Frame& frame, const Fastening& made) {
  const model::Part& pipe = frame.part(made.part);
  const model::Surface& surface = frame.surface(made.surface);
  if (pipe.ports.size() < 2) return {};
  const Vec3 normal = surface.normal.unit();
  if (std::abs(dot(pipe.ports[1].facing.unit(), normal)) > 0.05) return {};
  const int axis = surface.normal.axis();
  return bands_on(pipe, bare_stretch(frame, pipe), made.count, -normal,
                  (pipe.ports[0].at[axis] - surface.at) * normal[axis]);
}

/// What the feet and the stem of a band cover of the face.
Bounds footing_of(const Band& band) {
  const Vec3 side = cross(band.down, band.along);
  const Vec3 middle = band.at + band.depth * band.down;
  Bounds out{middle, middle};
  for (const double a : {-1.0, 1.0}) {
    for (const double b : {-1.0, 1.0}) {
      const Vec3 corner = middle + (a * band.width / 2.0) * band.along + (b * (band.radius + band.foot)) * side;
      for (int axis = 0; axis < 3; ++axis) {
        out.lo[axis] = std::min(out.lo[axis], corner[axis]);
        out.hi[axis] = std::max(out.hi[axis], corner[axis]);
      }
    }
  }
  return out;
}

/// What meets one surface, each with its margin.
std::vector<Ground> grounds_on(const Frame& frame, int index) {
  const model::Surface& surface = frame.surface(index);
  const int normal = surface.normal.axis();
  std::vector<Ground> out;
  std::vector<bool> screwed(frame.parts.size(), false);
  const auto add = [&](const Bounds& box, int fastening, PartId part) {
    double across = 1e300;
    for (int axis = 0; axis < 3; ++axis) {
      if (axis != normal) across = std::min(across, box.hi[axis] - box.lo[axis]);
    }
    const double margin = std::clamp(0.3 * across, 14.0, 35.0);
    Ground ground{box, {}, {part}};
    if (fastening != model::kNone) ground.fastenings.push_back(fastening);
    for (int axis = 0; axis < 3; ++axis) {
      ground.box.lo[axis] -= margin;
      ground.box.hi[axis] += margin;
    }
    out.push_back(std::move(ground));
  };
  for (std::size_t i = 0; i < frame.fastenings.size(); ++i) {
    const Fastening& made = frame.fastenings[i];
    if (made.other != model::kRoom || made.surface != index) continue;
    screwed[dryfit::at(made.part)] = true;
    if (made.kind == Fastening::Kind::clip) {
      for (const Band& band : clips_of(frame, made)) add(footing_of(band), static_cast<int>(i), made.part);
    } else {
      add(bounds_of(frame.part(made.part)), static_cast<int>(i), made.part);
    }
  }
  for (std::size_t id = 0; id < frame.parts.size(); ++id) {
    const model::Part& part = frame.parts[id];
    if (screwed[id] || part.kind == model::PartKind::board || part.solids.empty()) continue;
    const Bounds box = bounds_of(part);
    const double end = surface.normal.unit()[normal] > 0.0 ? box.lo[normal] : box.hi[normal];
    if (std::abs(end - surface.at) <= kTouches) add(box, model::kNone, static_cast<PartId>(id));
  }
  return joined(std::move(out), normal);
}

/// Surfaces end where they meet.
void keep_in_room(const Frame& frame, int index, Bounds& box) {
  for (const model::Surface& other : frame.surfaces) {
    const int axis = other.normal.axis();
    if (axis == frame.surface(index).normal.axis()) continue;
    const bool low = other.normal.unit()[axis] > 0.0;
    double& limit = low ? box.lo[axis] : box.hi[axis];
    limit = low ? std::max(limit, other.at) : std::min(limit, other.at);
  }
}

}  // namespace

std::vector<Fixture> fixtures_of(const Frame& frame) {
  std::vector<Fixture> out;
  for (int index = 0; index < static_cast<int>(frame.surfaces.size()); ++index) {
    const model::Surface& surface = frame.surface(index);
    const int normal = surface.normal.axis();
    for (Ground& ground : grounds_on(frame, index)) {
      keep_in_room(frame, index, ground.box);
      const bool up = surface.normal.unit()[normal] > 0.0;
      ground.box.lo[normal] = up ? surface.at - kSlab : surface.at;
      ground.box.hi[normal] = up ? surface.at : surface.at + kSlab;
      Fixture fixture;
      fixture.surface = index;
      fixture.fastenings = std::move(ground.fastenings);
      fixture.parts = std::move(ground.parts);
      fixture.patch = {ground.box.lo, ground.box.hi, surface.normal.unit()};
      const Vec3 size = ground.box.hi - ground.box.lo;
      if (size.x > 0.0 && size.y > 0.0 && size.z > 0.0) out.push_back(std::move(fixture));
    }
  }
  for (std::size_t i = 0; i < frame.fastenings.size(); ++i) {
    const Fastening& made = frame.fastenings[i];
    Fixture fixture;
    fixture.fastenings = {static_cast<int>(i)};
    if (made.kind == Fastening::Kind::strap) {
      fixture.kind = Fixture::Kind::strap;
      fixture.parts = {made.part, made.other};
      fixture.bands = straps_of(frame, made);
    } else if (made.kind == Fastening::Kind::clip) {
      fixture.kind = Fixture::Kind::clip;
      fixture.surface = made.surface;
      fixture.parts = {made.part};
      fixture.bands = clips_of(frame, made);
    }
    if (!fixture.bands.empty()) out.push_back(std::move(fixture));
  }
  return out;
}

std::vector<int> fixtures_at(const std::vector<Fixture>& fixtures, const std::vector<PartId>& parts) {
  const auto is_there = [&parts](PartId id) { return std::binary_search(parts.begin(), parts.end(), id); };
  std::vector<int> out;
  for (int i = 0; i < static_cast<int>(fixtures.size()); ++i) {
    const Fixture& fixture = fixtures[dryfit::at(i)];
    const bool belongs = fixture.kind == Fixture::Kind::strap
                             ? std::all_of(fixture.parts.begin(), fixture.parts.end(), is_there)
                             : std::any_of(fixture.parts.begin(), fixture.parts.end(), is_there);
    if (belongs) out.push_back(i);
  }
  return out;
}

}  // namespace dryfit::cli
