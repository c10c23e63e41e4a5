#include "tests/support/seen/ray.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "model/geometry/at.hpp"

namespace dryfit::tests {
namespace {

using model::Vec3;

/// Values of t inside a convex body; empty when from >= to.
struct Stretch {
  double from = -1e9;
  double to = 1e9;
  [[nodiscard]] bool empty() const { return from >= to; }
};

Stretch both(Stretch a, Stretch b) { return {std::max(a.from, b.from), std::min(a.to, b.to)}; }

/// dot(normal, p) <= offset.
Stretch behind(const Sight& sight, Vec3 normal, double offset) {
  const double speed = dot(normal, sight.toward);
  const double start = dot(normal, sight.point) - offset;
  if (std::abs(speed) < 1e-12) return start <= 0.0 ? Stretch{} : Stretch{1, 0};
  return speed > 0.0 ? Stretch{-1e9, -start / speed} : Stretch{-start / speed, 1e9};
}

/// Within `radius` of the endless line through `point` along `axis` (length 1).
Stretch within(const Sight& sight, Vec3 point, Vec3 axis, double radius) {
  const Vec3 d = sight.point - point;
  const Vec3 across = d - dot(d, axis) * axis;
  const Vec3 speed = sight.toward - dot(sight.toward, axis) * axis;
  const double a = dot(speed, speed);
  const double b = dot(speed, across);
  const double c = dot(across, across) - radius * radius;
  if (a < 1e-12) return c <= 0.0 ? Stretch{} : Stretch{1, 0};
  const double root = b * b - a * c;
  if (root <= 0.0) return {1, 0};
  return {(-b - std::sqrt(root)) / a, (-b + std::sqrt(root)) / a};
}

Stretch through_cylinder(const Sight& sight, Vec3 a, Vec3 b, double radius) {
  const Vec3 axis = (b - a) * (1.0 / norm(b - a));
  Stretch out = within(sight, a, axis, radius);
  out = both(out, behind(sight, axis, dot(axis, b)));
  return both(out, behind(sight, -axis, -dot(axis, a)));
}

Stretch through_box(const Sight& sight, Vec3 lo, Vec3 hi) {
  Stretch out;
  for (int axis = 0; axis < 3; ++axis) {
    Vec3 normal;
    normal[axis] = 1.0;
    out = both(out, behind(sight, normal, hi[axis]));
    out = both(out, behind(sight, -normal, -lo[axis]));
  }
  return out;
}

/// A drilled hole, or a slot: everything within half its width of the axis, moved toward the open side.
std::vector<Stretch> through_hole(const Sight& sight, const model::Board& board, const model::Hole& hole) {
  Vec3 axis;
  axis[board.normal] = 1.0;
  std::vector<Stretch> out{within(sight, hole.centre, axis, hole.diameter / 2.0)};
  if (hole.notch) {
    const Vec3 open = hole.open.unit();
    const Vec3 aside = cross(axis, open);
    const double middle = dot(aside, hole.centre);
    Stretch slot = behind(sight, aside, middle + hole.diameter / 2.0);
    slot = both(slot, behind(sight, -aside, -middle + hole.diameter / 2.0));
    out.push_back(both(slot, behind(sight, -open, -dot(open, hole.centre))));
  }
  return out;
}

/// The largest t inside the board.
std::optional<double> nearest_in_board(const Sight& sight, const model::Board& board) {
  std::vector<Stretch> solid{through_box(sight, board.lo, board.hi)};
  for (const model::Hole& hole : board.holes) {
    for (const Stretch& gap : through_hole(sight, board, hole)) {
      if (gap.empty()) continue;
      std::vector<Stretch> left;
      for (const Stretch& s : solid) {
        for (const Stretch& rest :
             {Stretch{s.from, std::min(s.to, gap.from)}, Stretch{std::max(s.from, gap.to), s.to}}) {
          if (rest.to - rest.from > 1e-9) left.push_back(rest);
        }
      }
      solid = std::move(left);
    }
  }
  std::optional<double> out;
  for (const Stretch& s : solid) {
    if (!s.empty() && (!out || s.to > *out)) out = s.to;
  }
  return out;
}

/// The corner that equal arms share past their centre: each arm goes on until it leaves the side of the plane
/// between the two where it began.
void add_corners(const Sight& sight, const model::Part& part, std::optional<double>& best) {
  const auto is_arm = [&part](const model::Solid& s) {
    return s.shape == model::Solid::Shape::cylinder && norm(s.a - part.centre) < 1e-6;
  };
  for (const model::Solid& arm : part.solids) {
    if (!is_arm(arm)) continue;
    const Vec3 axis = arm.along.unit();
    Stretch corner = within(sight, part.centre, axis, arm.radius);
    corner = both(corner, behind(sight, axis, dot(axis, part.centre)));
    corner = both(corner, behind(sight, -axis, -dot(axis, part.centre) + arm.radius));
    bool any = false;
    for (const model::Solid& other : part.solids) {
      if (&other == &arm || !is_arm(other) || std::abs(other.radius - arm.radius) > 1e-6) continue;
      any = true;
      const Vec3 normal = other.along.unit() - axis;
      corner = both(corner, behind(sight, normal, dot(normal, part.centre)));
    }
    if (any && !corner.empty() && (!best || corner.to > *best)) best = corner.to;
  }
}

/// Where the arms differ, the thicker one reaches past the centre by the thinner one's radius.
void add_heel(const Sight& sight, const model::Part& part, std::optional<double>& best) {
  for (const model::Solid& arm : part.solids) {
    double back = 0.0;
    for (const model::Solid& other : part.solids) {
      if (other.radius < arm.radius - 1e-6) back = std::max(back, other.radius);
    }
    if (back == 0.0 || norm(arm.a - part.centre) > 1e-6) continue;
    const Stretch heel = through_cylinder(sight, arm.a - back * arm.along.unit(), arm.b, arm.radius);
    if (!heel.empty() && (!best || heel.to > *best)) best = heel.to;
  }
}

/// Between two planes square to `axis`.
Stretch between(const Sight& sight, Vec3 axis, double lo, double hi) {
  return both(behind(sight, axis, hi), behind(sight, -axis, -lo));
}

/// A box along three directions square to one another, each from lo to hi as measured from the band's place.
Stretch through_turned_box(const Sight& sight, const cli::Band& band, Vec3 lo, Vec3 hi) {
  const Vec3 side = cross(band.down, band.along);
  Stretch out = between(sight, band.along, dot(band.along, band.at) + lo.x, dot(band.along, band.at) + hi.x);
  out = both(out, between(sight, side, dot(side, band.at) + lo.y, dot(side, band.at) + hi.y));
  return both(out, between(sight, band.down, dot(band.down, band.at) + lo.z, dot(band.down, band.at) + hi.z));
}

/// The largest t inside the band: the cylinder about the pipe, the block between its straight sides, what it stands on.
std::optional<double> nearest_in_band(const Sight& sight, const cli::Band& band) {
  const double half = band.width / 2.0;
  const double r = band.radius;
  const Vec3 start = band.at - half * band.along;
  // Half a cylinder: on the side away from the face.
  Stretch arch = through_cylinder(sight, start, start + band.width * band.along, r);
  arch = both(arch, behind(sight, band.down, dot(band.down, band.at)));
  std::vector<Stretch> all{arch, through_turned_box(sight, band, {-half, -r, 0.0}, {half, r, band.sides_to()})};
  const double top = band.depth - band.thickness;
  if (band.on_stem()) {
    const double stem = std::min(half, 0.4 * r);
    all.push_back(through_turned_box(sight, band, {-stem, -stem, r}, {stem, stem, top}));
    all.push_back(through_turned_box(sight, band, {-half, -r, top}, {half, r, band.depth}));
  } else {
    all.push_back(through_turned_box(sight, band, {-half, -r - band.foot, top}, {half, r + band.foot, band.depth}));
  }
  std::optional<double> out;
  for (const Stretch& s : all) {
    if (!s.empty() && (!out || s.to > *out)) out = s.to;
  }
  return out;
}

std::optional<double> nearest_in_fixture(const Sight& sight, const cli::Fixture& fixture) {
  if (fixture.kind == cli::Fixture::Kind::patch) {
    if (dot(fixture.patch.normal, sight.toward) <= 1e-6) return std::nullopt;
    const Stretch slab = through_box(sight, fixture.patch.lo, fixture.patch.hi);
    return slab.empty() ? std::nullopt : std::optional(slab.to);
  }
  std::optional<double> out;
  for (const cli::Band& band : fixture.bands) {
    const auto t = nearest_in_band(sight, band);
    if (t && (!out || *t > *out)) out = t;
  }
  return out;
}

/// What is seen of the parts, and how near.
struct Seen {
  model::PartId part = model::kNone;
  double t = -1e300;
};

Seen nearest_part(const model::Frame& frame, const std::vector<bool>& shown, const Sight& sight) {
  Seen seen;
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    if (!shown.empty() && !shown[i]) continue;
    const model::Part& part = frame.parts[i];
    std::optional<double> best;
    if (part.board != model::kNone) {
      best = nearest_in_board(sight, frame.board(part.board));
    } else {
      for (const model::Solid& solid : part.solids) {
        const Stretch s = solid.shape == model::Solid::Shape::box
                              ? through_box(sight, solid.a, solid.b)
                              : through_cylinder(sight, solid.a, solid.b, solid.radius);
        if (!s.empty() && (!best || s.to > *best)) best = s.to;
      }
      switch (part.kind) {
        case model::PartKind::elbow:
        case model::PartKind::elbow45:
        case model::PartKind::street_elbow:
        case model::PartKind::side_elbow:
          add_corners(sight, part, best);
          add_heel(sight, part, best);
          break;
        default: break;
      }
    }
    if (best && *best > seen.t) seen = {static_cast<model::PartId>(i), *best};
  }
  return seen;
}

}  // namespace

model::PartId first_seen(const model::Frame& frame, const std::vector<bool>& shown, const Sight& sight) {
  return nearest_part(frame, shown, sight).part;
}

model::PartId first_seen(const model::Frame& frame, const std::vector<bool>& shown, const Sight& sight,
                         const std::vector<cli::Fixture>& fixtures, const std::vector<int>& drawn) {
  Seen seen = nearest_part(frame, shown, sight);
  for (const int index : drawn) {
    const auto t = nearest_in_fixture(sight, fixtures[at(index)]);
    if (t && *t > seen.t) seen = {static_cast<model::PartId>(frame.parts.size()) + index, *t};
  }
  return seen.part;
}

}  // namespace dryfit::tests
