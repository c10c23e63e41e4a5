#include "planner/effort/support_polygon.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace dryfit::planner {

using model::Bounds;
using model::Solid;

namespace {

double cross(Point2 o, Point2 a, Point2 b) { return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x); }

constexpr std::size_t kRing = 12;

/// Points of a circle of radius 1.
const std::array<Point2, kRing>& ring() {
  static const std::array<Point2, kRing> kPoints = [] {
    std::array<Point2, kRing> points;
    for (std::size_t i = 0; i < kRing; ++i) {
      const double t = 2.0 * std::numbers::pi * static_cast<double>(i) / 12.0;
      points[i] = {std::cos(t), std::sin(t)};
    }
    return points;
  }();
  return kPoints;
}

/// Where a body touches the floor: corners of a box, twelve points of an upright cylinder's end, the ends of a level
/// one that rolls, else its bounds.
void add_foot(const Solid& solid, Touch touch, std::vector<Point2>& points) {
  if (solid.shape == Solid::Shape::cylinder && solid.along.axis() == 2) {
    for (const Point2 p : ring()) points.push_back({solid.a.x + solid.radius * p.x, solid.a.y + solid.radius * p.y});
    return;
  }
  if (touch == Touch::round && solid.shape == Solid::Shape::cylinder && solid.along.z == 0) {
    for (const model::Vec3& end : {solid.a, solid.b}) points.push_back({end.x, end.y});
    return;
  }
  const Bounds box = bounds_of(solid);
  for (const double x : {box.lo.x, box.hi.x}) {
    for (const double y : {box.lo.y, box.hi.y}) points.push_back({x, y});
  }
}

}  // namespace

std::vector<Point2> convex_hull(std::vector<Point2> points) {
  std::sort(points.begin(), points.end(), [](Point2 a, Point2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  points.erase(std::unique(points.begin(), points.end(), [](Point2 a, Point2 b) { return a.x == b.x && a.y == b.y; }),
               points.end());
  if (points.size() < 3) return points;
  std::vector<Point2> hull(2 * points.size());
  std::size_t n = 0;
  const auto add = [&](Point2 p, std::size_t least) {
    while (n >= least && cross(hull[n - 2], hull[n - 1], p) <= 0.0) --n;
    hull[n++] = p;
  };
  for (const Point2 p : points) add(p, 2);
  const std::size_t upper = n + 1;
  for (auto p = points.rbegin() + 1; p != points.rend(); ++p) add(*p, upper);
  hull.resize(n - 1);
  return hull;
}

double depth_inside(const std::vector<Point2>& hull, Point2 point) {
  if (hull.empty()) return -std::numeric_limits<double>::infinity();
  if (hull.size() < 3) {
    double nearest = std::numeric_limits<double>::infinity();
    for (const Point2 p : hull) nearest = std::min(nearest, std::hypot(p.x - point.x, p.y - point.y));
    return -nearest;
  }
  double depth = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Point2 a = hull[i], b = hull[(i + 1) % hull.size()];
    depth = std::min(depth, cross(a, b, point) / std::hypot(b.x - a.x, b.y - a.y));
  }
  return depth;
}

bool Stand::stands() const { return margin >= height * std::tan(effort_rates().tip_angle * std::numbers::pi / 180.0); }

Stand stand_of(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts, Pose pose,
               Touch touch) {
  const double sign = pose == Pose::over ? -1.0 : 1.0;
  double lowest = std::numeric_limits<double>::infinity();
  for (const PartId p : parts) {
    const Bounds& box = effort.bounds(p);
    lowest = std::min(lowest, sign > 0.0 ? box.lo.z : -box.hi.z);
  }
  std::vector<Point2> feet;
  double mass = 0.0, height = 0.0;
  Point2 middle;
  for (const PartId p : parts) {
    const model::MassProperties& body = effort.properties(p);
    mass += body.mass;
    middle.x += body.mass * body.centre.x;
    middle.y += body.mass * body.centre.y;
    height += body.mass * (sign * body.centre.z - lowest);
    for (const Solid& solid : frame.part(p).solids) {
      const Bounds box = bounds_of(solid);
      if ((sign > 0.0 ? box.lo.z : -box.hi.z) <= lowest + kFootBand) add_foot(solid, touch, feet);
    }
  }
  if (mass <= 0.0) return {};
  return {depth_inside(convex_hull(std::move(feet)), {middle.x / mass, middle.y / mass}), height / mass};
}

}  // namespace dryfit::planner
