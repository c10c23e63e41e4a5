#include "cli/draw/body/rods.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/solid.hpp"

namespace dryfit::cli {
namespace {

constexpr double kSame = 0.05;      // mm: radii and axes nearer than this are taken for equal
constexpr double kShortest = 0.05;  // mm: shorter rods are not drawn

bool bends(model::PartKind kind) {
  switch (kind) {
    case model::PartKind::elbow:
    case model::PartKind::elbow45:
    case model::PartKind::street_elbow:
    case model::PartKind::tee:
    case model::PartKind::cross:
    case model::PartKind::side_elbow:
    case model::PartKind::side_tee: return true;
    default: return false;
  }
}

/// Arms of one fitting start at its centre. Fills in their mitres and lets them reach past the centre.
void join_arms(std::vector<Rod>& rods, std::size_t first, Vec3 centre) {
  for (std::size_t i = first; i < rods.size(); ++i) {
    Rod& arm = rods[i];
    if (norm(arm.from - centre) > kSame) continue;
    double past = 0.0;
    bool opposed = false;
    for (std::size_t j = first; j < rods.size(); ++j) {
      const Rod& other = rods[j];
      if (j == i || norm(other.from - centre) > kSame) continue;
      const double along = dot(arm.axis, other.axis);
      opposed = opposed || along < -0.99;
      if (std::abs(arm.radius - other.radius) <= kSame) {
        const Vec3 normal = (other.axis - arm.axis) * (1.0 / norm(other.axis - arm.axis));
        arm.mitres.push_back({{normal, dot(normal, centre)}, along < -0.99 ? FaceKind::seam : FaceKind::crease});
        past = std::max(past, arm.radius);
      } else if (other.radius < arm.radius) {
        past = std::max(past, other.radius);  // a thinner branch comes out of the side of the thicker arm
      }
    }
    if (opposed) past = 0.0;
    // `from` moves only after all arms have been looked at: see below.
    arm.length += past;
  }
  for (std::size_t i = first; i < rods.size(); ++i) {
    Rod& arm = rods[i];
    if (norm(arm.from - centre) > kSame) continue;
    arm.start = arm.mitres.empty() ? FaceKind::flat : FaceKind::crease;
  }
}

struct Span {
  double lo;
  double hi;
};

/// Leaves out the part of `rod` between lo and hi (measured from rod.from); the rest goes to `out`.
void leave_out(const Rod& rod, Span gap, std::vector<Rod>& out) {
  if (gap.lo > kShortest) {
    Rod before = rod;
    before.length = gap.lo;
    before.end = FaceKind::crease;
    out.push_back(std::move(before));
  }
  if (gap.hi < rod.length - kShortest) {
    Rod after = rod;
    after.from = rod.from + gap.hi * rod.axis;
    after.length = rod.length - gap.hi;
    after.start = FaceKind::crease;
    out.push_back(std::move(after));
  }
}

/// The stretch of `thin` that `thick` covers, or lo >= hi when they are not on one axis or do not overlap.
Span covered(const Rod& thin, const Rod& thick) {
  if (std::abs(dot(thin.axis, thick.axis)) < 0.999999) return {1, 0};
  const Vec3 d = thick.from - thin.from;
  const double along = dot(d, thin.axis);
  if (norm(d - along * thin.axis) > kSame + (thick.radius - thin.radius)) return {1, 0};
  const double other = dot(thick.to() - thin.from, thin.axis);
  return {std::max(0.0, std::min(along, other)), std::min(thin.length, std::max(along, other))};
}

struct Reach {
  double lo;
  double hi;
  std::size_t rod;
};

/// The axis (0, 1, 2) along which the rods are spread most evenly: the one with the largest sum of gaps is a good
/// enough choice, and the widest box is its stand-in.
int widest_axis(const std::vector<Rod>& rods) {
  Vec3 lo{1e300, 1e300, 1e300};
  Vec3 hi{-1e300, -1e300, -1e300};
  for (const Rod& rod : rods) {
    for (int axis = 0; axis < 3; ++axis) {
      lo[axis] = std::min(lo[axis], rod.from[axis]);
      hi[axis] = std::max(hi[axis], rod.from[axis]);
    }
  }
  const Vec3 size = hi - lo;
  return size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
}

/// Per rod the rods that may cover some of it.
std::vector<std::vector<std::size_t>> near_pairs(const std::vector<Rod>& rods) {
  const int axis = widest_axis(rods);
  std::vector<Reach> reaches;
  for (std::size_t i = 0; i < rods.size(); ++i) {
    const double a = rods[i].from[axis];
    const double b = rods[i].to()[axis];
    reaches.push_back({std::min(a, b) - rods[i].radius, std::max(a, b) + rods[i].radius, i});
  }
  std::sort(reaches.begin(), reaches.end(),
            [](const Reach& a, const Reach& b) { return a.lo != b.lo ? a.lo < b.lo : a.rod < b.rod; });
  std::vector<std::vector<std::size_t>> out(rods.size());
  for (std::size_t i = 0; i < reaches.size(); ++i) {
    for (std::size_t j = i + 1; j < reaches.size() && reaches[j].lo <= reaches[i].hi; ++j) {
      out[reaches[i].rod].push_back(reaches[j].rod);
      out[reaches[j].rod].push_back(reaches[i].rod);
    }
  }
  for (auto& list : out) std::sort(list.begin(), list.end());
  return out;
}

/// A part's cylinders as rods; those of a fitting that bends one by one, from its centre outward.
void add_rods(const model::Part& part, model::PartId id, std::vector<Rod>& out) {
  for (const model::Solid& solid : part.solids) {
    if (solid.shape != model::Solid::Shape::cylinder) continue;
    const double length = norm(solid.b - solid.a);
    if (length < kShortest || solid.radius <= 0.0) continue;
    Rod rod;
    rod.part = id;
    rod.from = solid.a;
    rod.axis = (solid.b - solid.a) * (1.0 / length);
    rod.length = length;
    rod.radius = solid.radius;
    if (!bends(part.kind)) {
      out.push_back(std::move(rod));
      continue;
    }
    const double before = dot(part.centre - rod.from, rod.axis);
    const bool through = norm(part.centre - rod.from - before * rod.axis) <= kSame;
    if (through && before > kSame) {
      Rod other = rod;
      other.from = part.centre;
      other.axis = -rod.axis;
      other.length = std::min(before, length);
      out.push_back(std::move(other));
      if (before >= length - kSame) continue;
      rod.from = part.centre;
      rod.length = length - before;
    }
    out.push_back(std::move(rod));
  }
}

/// What of the rods `pieces` is left beside the stretches that `thicker` hides.
std::vector<Rod> uncovered(const std::vector<Rod>& pieces, const Rod& thicker) {
  std::vector<Rod> left;
  for (const Rod& piece : pieces) {
    const Span gap = covered(piece, thicker);
    if (gap.hi - gap.lo <= 1e-9) {
      left.push_back(piece);
    } else {
      leave_out(piece, gap, left);
    }
  }
  return left;
}

}  // namespace

std::vector<Rod> rods_of(const model::Frame& frame, const std::vector<model::PartId>& shown) {
  std::vector<Rod> whole;  // as the frame has them
  std::vector<Rod> drawn;  // the same with mitres and reach past the centre
  for (const model::PartId id : shown) {
    const model::Part& part = frame.part(id);
    const std::size_t first = whole.size();
    add_rods(part, id, whole);
    drawn.insert(drawn.end(), whole.begin() + static_cast<std::ptrdiff_t>(first), whole.end());
    if (bends(part.kind)) join_arms(drawn, first, part.centre);
  }

  const auto neighbours = near_pairs(whole);
  std::vector<Rod> out;
  for (std::size_t i = 0; i < whole.size(); ++i) {
    std::vector<Rod> pieces{drawn[i]};
    // The reach past the centre is the rod's own business: it is put on after the covered stretches are known.
    const double past = drawn[i].length - whole[i].length;
    pieces[0].from = whole[i].from - past * whole[i].axis;
    for (const std::size_t j : neighbours[i]) {
      const double thicker = whole[j].radius - whole[i].radius;
      const bool covers = thicker > 1e-6 || (std::abs(thicker) <= 1e-6 && j < i);
      if (covers) pieces = uncovered(pieces, whole[j]);
    }
    for (Rod& piece : pieces) {
      if (piece.length >= kShortest) out.push_back(std::move(piece));
    }
  }
  return out;
}

}  // namespace dryfit::cli
