#include "model/geometry/turn.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"

namespace dryfit::model {
namespace {

/// Doubt that a full-turn test may leave, mm.
constexpr double kDoubt = 0.05;
/// An oblique cylinder is judged as a prism round it that is nowhere farther out than this, mm.
constexpr double kPrismExcess = 0.02;

struct Point2 {
  double x = 0.0;
  double y = 0.0;
};

/// Two unit vectors square to the axis and to each other.
struct Across {
  Vec3 u;
  Vec3 v;
};
Across across(const Axis& axis) {
  const Vec3 a = axis.along.unit();
  const Vec3 helper = std::abs(a.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  Vec3 u = cross(a, helper);
  u = u * (1.0 / norm(u));
  return {u, cross(a, u)};
}

/// Corners and edges of a solid that lies askew to the axis, in (x, y square to it; z along it).
struct Polytope {
  std::vector<Vec3> corners;
  std::vector<std::array<int, 2>> edges;
};

Polytope polytope_of(const Solid& solid, const Axis& axis) {
  const Across plane = across(axis);
  const Vec3 a = axis.along.unit();
  const auto local = [&](Vec3 p) {
    const Vec3 d = p - axis.point;
    return Vec3{dot(d, plane.u), dot(d, plane.v), dot(d, a)};
  };
  Polytope body;
  if (solid.shape != Solid::Shape::cylinder) {
    for (const Vec3& corner : corners_of(solid)) body.corners.push_back(local(corner));
    for (int i = 0; i < 8; ++i) {
      for (const int bit : {1, 2, 4}) {
        if ((i & bit) == 0) body.edges.push_back({i, i | bit});
      }
    }
    return body;
  }
  // R / cos(pi / n) - R <= excess, with 1 / cos(x) - 1 about x^2 / 2.
  const double wanted = std::numbers::pi * std::sqrt(std::max(solid.radius, 1.0) / (2.0 * kPrismExcess));
  const int n = std::clamp(2 * static_cast<int>(std::ceil(wanted / 2.0)), 16, 400);
  const double outer = solid.radius / std::cos(std::numbers::pi / n);
  const Across ring = across({solid.a, solid.along});
  for (int i = 0; i < n; ++i) {
    const double angle = 2.0 * std::numbers::pi * i / n;
    const Vec3 rim = ring.u * (outer * std::cos(angle)) + ring.v * (outer * std::sin(angle));
    body.corners.push_back(local(solid.a + rim));
    body.corners.push_back(local(solid.b + rim));
    const int next = (i + 1) % n;
    body.edges.push_back({2 * i, 2 * i + 1});
    body.edges.push_back({2 * i, 2 * next});
    body.edges.push_back({2 * i + 1, 2 * next + 1});
  }
  return body;
}

/// Distance from the origin to the convex hull of the points; 0 when inside. Points may repeat.
double hull_distance(std::vector<Point2>& points) {
  std::sort(points.begin(), points.end(), [](Point2 p, Point2 q) { return p.x != q.x ? p.x < q.x : p.y < q.y; });
  const auto turn = [](Point2 o, Point2 p, Point2 q) { return (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x); };
  std::vector<Point2> hull(2 * points.size());
  std::size_t k = 0;
  for (const Point2 p : points) {
    while (k >= 2 && turn(hull[k - 2], hull[k - 1], p) <= 0) --k;
    hull[k++] = p;
  }
  const std::size_t lower = k + 1;
  for (std::size_t i = points.size(); i-- > 1;) {
    const Point2 p = points[i - 1];
    while (k >= lower && turn(hull[k - 2], hull[k - 1], p) <= 0) --k;
    hull[k++] = p;
  }
  hull.resize(k > 1 ? k - 1 : k);
  bool inside = hull.size() >= 3;
  double best = 1e300;
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Point2 p = hull[i], q = hull[(i + 1) % hull.size()];
    if (turn(p, q, {0, 0}) < 0) inside = false;
    const double dx = q.x - p.x, dy = q.y - p.y, length2 = dx * dx + dy * dy;
    const double t = length2 > 0 ? std::clamp(-(p.x * dx + p.y * dy) / length2, 0.0, 1.0) : 0.0;
    best = std::min(best, std::hypot(p.x + t * dx, p.y + t * dy));
  }
  return inside ? 0.0 : best;
}

RRange shadow_of(const Polytope& body, double z0, double z1) {
  std::vector<Point2> points;
  for (const Vec3& c : body.corners) {
    if (c.z >= z0 && c.z <= z1) points.push_back({c.x, c.y});
  }
  for (const auto& e : body.edges) {
    const Vec3 p = body.corners[at(e[0])], q = body.corners[at(e[1])];
    for (const double z : {z0, z1}) {
      if ((p.z < z) == (q.z < z)) continue;
      const double t = (z - p.z) / (q.z - p.z);
      points.push_back({p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)});
    }
  }
  if (points.empty()) return {};
  double hi = 0.0;
  for (const Point2 p : points) hi = std::max(hi, std::hypot(p.x, p.y));
  return {hull_distance(points), hi};
}

ZRange z_of(const Polytope& body) {
  ZRange z{1e300, -1e300};
  for (const Vec3& c : body.corners) z = {std::min(z.lo, c.z), std::max(z.hi, c.z)};
  return z;
}

/// What is bounded by a ring about the axis.
struct Ring {
  RRange r;
  ZRange z;
};

/// The least ring about an axis along `n` that holds the box.
Ring ring_round(const Bounds& box, const Axis& axis, int n) {
  const double way = axis.along.unit()[n];
  const int i = (n + 1) % 3, j = (n + 2) % 3;
  const auto nearest = [](double lo, double hi) { return lo > 0 ? lo : hi < 0 ? -hi : 0.0; };
  const double x0 = box.lo[i] - axis.point[i], x1 = box.hi[i] - axis.point[i];
  const double y0 = box.lo[j] - axis.point[j], y1 = box.hi[j] - axis.point[j];
  const double p = (box.lo[n] - axis.point[n]) * way, q = (box.hi[n] - axis.point[n]) * way;
  return {{std::hypot(nearest(x0, x1), nearest(y0, y1)),
           std::hypot(std::max(std::abs(x0), std::abs(x1)), std::max(std::abs(y0), std::abs(y1)))},
          {std::min(p, q), std::max(p, q)}};
}

/// A ring that holds the solid, told quickly and seldom much too wide.
Ring ring_of(const Solid& solid, const Axis& axis) {
  const Bounds box = bounds_of(solid);
  if (const int n = axis.along.axis(); n >= 0) return ring_round(box, axis, n);
  const Vec3 from = (box.lo + box.hi) * 0.5 - axis.point, way = axis.along.unit();
  const double along = dot(from, way), off = norm(from - way * along), ball = 0.5 * norm(box.hi - box.lo);
  return {{std::max(0.0, off - ball), off + ball}, {along - ball, along + ball}};
}

/// Shadow of a solid about one axis, set up once and asked for many slabs.
class Shadow {
 public:
  Shadow(const Solid& solid, const Axis& axis) {
    const Vec3 a = axis.along.unit();
    const Vec3 d = solid.a - axis.point;
    if (solid.shape == Solid::Shape::box) {
      const int n = axis.along.axis();
      if (n >= 0) {
        const Ring ring = ring_round({solid.a, solid.b}, axis, n);
        constant_ = ring.r;
        z_ = ring.z;
        form_ = Form::constant;
        return;
      }
    } else if (solid.shape == Solid::Shape::wedge) {
      if (axis.along.axis() == solid.normal) {  // a prism along the axis: the outline is the same at every z
        body_ = polytope_of(solid, axis);
        z_ = z_of(body_);
        constant_ = shadow_of(body_, z_.lo, z_.hi);
        form_ = Form::constant;
        return;
      }
    } else if (parallel(solid.along, axis.along)) {
      const double z0 = dot(d, a), z1 = dot(solid.b - axis.point, a);
      const double off = norm(d - a * z0);
      constant_ = {std::max(0.0, off - solid.radius), off + solid.radius};
      z_ = {std::min(z0, z1), std::max(z0, z1)};
      form_ = Form::constant;
      return;
    } else if (square(solid.along, axis.along)) {
      const Vec3 c = solid.along.unit();
      const double u0 = dot(d, c), u1 = dot(solid.b - axis.point, c);
      near_u_ = u0 * u1 <= 0 ? 0.0 : std::min(std::abs(u0), std::abs(u1));
      far_u_ = std::max(std::abs(u0), std::abs(u1));
      side_ = std::abs(dot(d, cross(a, c)));
      centre_ = dot(d, a);
      radius_ = solid.radius;
      z_ = {centre_ - radius_, centre_ + radius_};
      form_ = Form::square;
      return;
    }
    form_ = Form::askew;
    body_ = polytope_of(solid, axis);
    z_ = z_of(body_);
  }

  [[nodiscard]] ZRange extent() const { return z_; }

  [[nodiscard]] RRange slab(double z0, double z1) const {
    z0 = std::max(z0, z_.lo);
    z1 = std::min(z1, z_.hi);
    if (z0 > z1) return {};
    if (form_ == Form::constant) return constant_;
    if (form_ == Form::askew) return shadow_of(body_, z0, z1);
    // The slice at z is a rectangle, far_u_ long and 2 w wide, w^2 = R^2 - (z - centre)^2: widest nearest the centre.
    const double off = z0 <= centre_ && centre_ <= z1 ? 0.0 : std::min(std::abs(z0 - centre_), std::abs(z1 - centre_));
    const double w = std::sqrt(std::max(0.0, radius_ * radius_ - off * off));
    return {std::hypot(near_u_, std::max(0.0, side_ - w)), std::hypot(far_u_, side_ + w)};
  }

 private:
  enum class Form { constant, square, askew };
  Form form_ = Form::constant;
  ZRange z_;
  RRange constant_;
  double near_u_ = 0, far_u_ = 0, side_ = 0, centre_ = 0, radius_ = 0;
  Polytope body_;
};

}  // namespace

RRange shadow(const Solid& solid, const Axis& axis, double z0, double z1) { return Shadow(solid, axis).slab(z0, z1); }

ZRange extent_along(const Solid& solid, const Axis& axis) {
  const Vec3 a = axis.along.unit();
  const double base = dot(axis.point, a);
  return {-reach_along(solid, -a) - base, reach_along(solid, a) - base};
}

double swing_radius(const Solid& solid, const Axis& axis) {
  const Shadow s(solid, axis);
  return s.slab(s.extent().lo, s.extent().hi).hi;
}

namespace {

/// Shadows of bodies that are made smaller already: do they overlap in some turn and shift?
bool shadows_meet(const Shadow& s, const Shadow& h, double shift) {
  const double back = std::min(0.0, shift), ahead = std::max(0.0, shift);
  const double lo = std::max(s.extent().lo + back, h.extent().lo);
  const double hi = std::min(s.extent().hi + ahead, h.extent().hi);
  if (lo >= hi) return false;
  struct Slab {
    double lo, hi;
  };
  std::vector<Slab> open{{lo, hi}};
  const auto overlap = [](RRange p, RRange q) { return !p.empty() && !q.empty() && p.lo < q.hi && q.lo < p.hi; };
  while (!open.empty()) {
    const Slab slab = open.back();
    open.pop_back();
    if (!overlap(s.slab(slab.lo - ahead, slab.hi - back), h.slab(slab.lo, slab.hi))) continue;
    const double middle = 0.5 * (slab.lo + slab.hi);
    if (slab.hi - slab.lo < kDoubt) return true;  // the gap, if any, is less than the slab is thick
    if (overlap(s.slab(middle - ahead, middle - back), h.slab(middle, middle))) return true;
    open.push_back({middle, slab.hi});
    open.push_back({slab.lo, middle});
  }
  return false;
}

/// False where the two rings are clear of each other, whatever the first is shifted by.
bool may_meet(const Ring& turning, const Ring& still, double shift) {
  constexpr double kHair = 1e-6;  // more than the two ways to work out a ring differ by, mm
  return turning.z.lo + std::min(0.0, shift) < still.z.hi + kHair &&
         still.z.lo < turning.z.hi + std::max(0.0, shift) + kHair && turning.r.lo < still.r.hi + kHair &&
         still.r.lo < turning.r.hi + kHair;
}

/// The thing made smaller by `by`; of a board those pieces that may meet the ring when they are shifted.
std::vector<Solid> pieces_in_ring(Thing thing, double by, const Axis& axis, double shift, const Bounds& region,
                                  const Ring& other) {
  if (!thing.pierced()) return {shrunk(thing.solid, by)};
  std::vector<Solid> pieces = pieces_of(*thing.wood, by, region);
  std::erase_if(pieces, [&](const Solid& piece) { return !may_meet(ring_of(piece, axis), other, shift); });
  return pieces;
}

}  // namespace

Bounds turned_bounds(const Solid& solid, const Axis& axis, double shift) {
  const ZRange z = extent_along(solid, axis);
  const double r = swing_radius(solid, axis);
  const Vec3 a = axis.along.unit();
  const double z0 = z.lo + std::min(0.0, shift), z1 = z.hi + std::max(0.0, shift);
  Bounds box;
  for (int i = 0; i < 3; ++i) {
    const double spread = r * std::sqrt(std::max(0.0, 1.0 - a[i] * a[i]));
    box.lo[i] = axis.point[i] + std::min(z0 * a[i], z1 * a[i]) - spread;
    box.hi[i] = axis.point[i] + std::max(z0 * a[i], z1 * a[i]) + spread;
  }
  return box;
}

bool turn_hits(Thing turning, Thing still, const Axis& axis, double shift, double touch) {
  // One way to ask for every pair, so that both sides of a thread get the same answer to the last digit.
  if (-axis.along < axis.along) return turn_hits(turning, still, {axis.point, -axis.along}, -shift, touch);
  if (comes_first(still.solid, turning.solid)) return turn_hits(still, turning, axis, -shift, touch);
  const double by = 0.5 * touch;
  const Solid turning_small = shrunk(turning.solid, by), still_small = shrunk(still.solid, by);
  if (!shadows_meet({turning_small, axis}, {still_small, axis}, shift)) return false;
  if (!turning.pierced() && !still.pierced()) return true;
  // Seen from the other, what turns stays and the other is shifted back.
  const std::vector<Solid> turned =
      pieces_in_ring(turning, by, axis, shift, turned_bounds(still.solid, axis, -shift), ring_of(still_small, axis));
  const std::vector<Solid> stays =
      pieces_in_ring(still, by, axis, -shift, turned_bounds(turning.solid, axis, shift), ring_of(turning_small, axis));
  // Large pieces come first and mostly decide: of the side with more of them a shadow is only made when it is looked
  // at.
  const bool more_turned = turned.size() > stays.size();
  std::vector<Shadow> shadows;
  for (const Solid& piece : more_turned ? stays : turned) shadows.emplace_back(piece, axis);
  const auto meets_one = [&](const Solid& piece) {
    const Shadow mine(piece, axis);
    return std::any_of(shadows.begin(), shadows.end(), [&](const Shadow& its) {
      return more_turned ? shadows_meet(mine, its, shift) : shadows_meet(its, mine, shift);
    });
  };
  const std::vector<Solid>& more = more_turned ? turned : stays;
  return std::any_of(more.begin(), more.end(), meets_one);
}

bool turn_hits(const Solid& turning, const Solid& still, const Axis& axis, double shift, double touch) {
  return turn_hits(Thing{turning}, Thing{still}, axis, shift, touch);
}

double turn_reach(const Solid& turning, const Axis& axis, double shift, Vec3 outward) {
  const Vec3 a = axis.along.unit();
  const double along = dot(outward, a);
  const double across_share = std::sqrt(std::max(0.0, 1.0 - along * along));
  const double moved_on = std::max(0.0, shift * along) + dot(axis.point, outward);
  const Shadow s(turning, axis);
  if (across_share < 1e-9) return moved_on + std::max(s.extent().lo * along, s.extent().hi * along);
  if (std::abs(along) < 1e-9) return moved_on + s.slab(s.extent().lo, s.extent().hi).hi;
  if (turning.shape == Solid::Shape::cylinder && parallel(turning.along, axis.along)) {
    return moved_on + std::max(s.extent().lo * along, s.extent().hi * along) +
           across_share * s.slab(s.extent().lo, s.extent().hi).hi;
  }
  // z * along + r * across_share is convex over the body, so its corners decide; the prism is outside the cylinder.
  double best = -1e300;
  for (const Vec3& c : polytope_of(turning, axis).corners) {
    best = std::max(best, c.z * along + std::hypot(c.x, c.y) * across_share);
  }
  return moved_on + best;
}

}  // namespace dryfit::model
