#include "planner/judge/replay_swing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace dryfit::planner::judge {
namespace {

using model::Direction;
using model::Solid;
using model::Vec3;

/// Motion of the farthest point, mm, under which an undecided angle counts as a hit.
constexpr double kDoubt = 0.05;

Vec3 turned(Vec3 v, Vec3 unit, double angle) {
  const Vec3 along = unit * dot(v, unit);
  const Vec3 across = v - along;
  return along + across * std::cos(angle) + cross(unit, across) * std::sin(angle);
}

Vec3 support_of_box(const Solid& box, Vec3 v) {
  return {v.x >= 0 ? box.b.x : box.a.x, v.y >= 0 ? box.b.y : box.a.y, v.z >= 0 ? box.b.z : box.a.z};
}

Vec3 support(const Solid& solid, Vec3 v) {
  if (solid.shape == Solid::Shape::box) return support_of_box(solid, v);
  const Vec3 unit = solid.along.unit();
  const Vec3 across = v - unit * dot(v, unit);
  const double length = norm(across);
  const Vec3 end = dot(v, solid.b - solid.a) >= 0 ? solid.b : solid.a;
  return length > 1e-12 ? end + across * (solid.radius / length) : end;
}

/// The point nearest the origin of the flat through some points, as weights that sum to 1; false when they are
/// not in general position or a weight is negative (then fewer points do as well).
bool nearest_inside(const std::vector<Vec3>& p, std::vector<double>& weights) {
  const std::size_t n = p.size() - 1;  // unknowns: weights of p[1..]
  std::array<std::array<double, 4>, 3> m{};
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) m[i][j] = dot(p[i + 1] - p[0], p[j + 1] - p[0]);
    m[i][3] = -dot(p[i + 1] - p[0], p[0]);
  }
  for (std::size_t col = 0; col < n; ++col) {
    std::size_t pivot = col;
    for (std::size_t row = col; row < n; ++row) {
      if (std::abs(m[row][col]) > std::abs(m[pivot][col])) pivot = row;
    }
    if (std::abs(m[pivot][col]) < 1e-12) return false;
    std::swap(m[col], m[pivot]);
    for (std::size_t row = 0; row < n; ++row) {
      if (row == col) continue;
      const double factor = m[row][col] / m[col][col];
      for (std::size_t k = col; k < 4; ++k) m[row][k] -= factor * m[col][k];
    }
  }
  weights.assign(p.size(), 0.0);
  double rest = 1.0;
  for (std::size_t i = 0; i < n; ++i) {
    weights[i + 1] = m[i][3] / m[i][i];
    rest -= weights[i + 1];
  }
  weights[0] = rest;
  return std::all_of(weights.begin(), weights.end(), [](double w) { return w >= 0.0; });
}

/// Reduces the points to those whose hull holds the hull's point nearest the origin, and returns that point. Tries
/// every subset: there are at most 15.
Vec3 reduce(std::vector<Vec3>& points) {
  Vec3 best = points[0];
  std::vector<Vec3> kept{points[0]};
  std::vector<double> weights;
  for (unsigned mask = 1; mask < (1U << points.size()); ++mask) {
    std::vector<Vec3> some;
    for (std::size_t i = 0; i < points.size(); ++i) {
      if ((mask >> i & 1U) != 0) some.push_back(points[i]);
    }
    if (!nearest_inside(some, weights)) continue;
    Vec3 v{};
    for (std::size_t i = 0; i < some.size(); ++i) v += some[i] * weights[i];
    if (dot(v, v) < dot(best, best)) {
      best = v;
      kept = std::move(some);
    }
  }
  points = std::move(kept);
  return best;
}

/// A lower bound of the distance between `box` turned by `angle` about the line and `still`: exact within 0.001 mm, or
/// any bound above `enough`. 0 when they overlap.
double gap(const Solid& box, Vec3 pivot, Vec3 unit, double angle, const Solid& still, double enough) {
  const auto difference = [&](Vec3 v) {
    const Vec3 corner = support_of_box(box, turned(v, unit, -angle));
    return pivot + turned(corner - pivot, unit, angle) - support(still, -v);
  };
  std::vector<Vec3> points{difference({1, 0, 0})};
  Vec3 nearest = points[0];
  double low = 0.0;
  for (int round = 0; round < 100; ++round) {
    const double size = norm(nearest);
    if (size < 1e-7) return 0.0;
    const Vec3 next = difference(-nearest);
    low = std::max(low, dot(nearest, next) / size);
    if (low > enough || size - low < 0.001) break;
    points.push_back(next);
    const Vec3 closer = reduce(points);
    if (points.size() == 4) return 0.0;
    if (norm(closer) > size - 1e-12) break;
    nearest = closer;
  }
  return low;
}

/// The lesser of the box's two extents across the line.
double thinnest_across(const Solid& box, Direction axis) {
  double least = 1e300;
  for (int i = 0; i < 3; ++i) {
    if (i != axis.axis()) least = std::min(least, box.b[i] - box.a[i]);
  }
  return least;
}

}  // namespace

double quarter_turn_reach(const Solid& box, Vec3 pivot, Direction axis, int sense, Vec3 outward, double angle) {
  const Vec3 unit = axis.unit() * sense;
  const Vec3 out_across = outward - unit * dot(outward, unit);
  double best = -1e300;
  for (const Vec3 corner : corners_of(box)) {
    const Vec3 off = corner - pivot;
    const double fixed = dot(pivot, outward) + dot(off, unit) * dot(outward, unit);
    // On a circle the reach is c cos(t) + s sin(t), 0 <= t <= angle: its top counts when it lies in between.
    const double c = dot(off, out_across), s = dot(cross(unit, off), out_across);
    best = std::max({best, fixed + c, fixed + c * std::cos(angle) + s * std::sin(angle)});
    const double top = std::atan2(s, c);
    if (top > 0 && top < angle) best = std::max(best, fixed + std::hypot(c, s));
  }
  return best;
}

model::Bounds quarter_turn_bounds(const Solid& box, Vec3 pivot, Direction axis, int sense, double angle) {
  model::Bounds bounds;
  for (int i = 0; i < 3; ++i) {
    Vec3 out{};
    out[i] = 1.0;
    bounds.hi[i] = quarter_turn_reach(box, pivot, axis, sense, out, angle);
    bounds.lo[i] = -quarter_turn_reach(box, pivot, axis, sense, -out, angle);
  }
  return bounds;
}

bool quarter_turn_hits(const Solid& box, Vec3 pivot, Direction axis, int sense, const Solid& still, double touch,
                       double angle) {
  return !spans_met(box, pivot, axis, sense, still, touch, {0.0, angle}).empty();
}

std::vector<TurnSpan> spans_met(const Solid& box, Vec3 pivot, Direction axis, int sense, const Solid& still,
                                double touch, TurnSpan within) {
  std::vector<TurnSpan> met;
  const Solid small = shrunk(box, touch);
  const Vec3 unit = axis.unit() * sense;
  // Turning does not move anything along the line.
  if (reach_along(small, unit) <= -reach_along(still, -unit) ||
      reach_along(still, unit) <= -reach_along(small, -unit)) {
    return met;
  }
  double radius = 0.0;
  for (const Vec3 corner : corners_of(small)) {
    const Vec3 off = corner - pivot;
    radius = std::max(radius, norm(off - unit * dot(off, unit)));
  }
  const double thinnest = thinnest_across(small, axis);
  std::vector<TurnSpan> open{within};
  while (!open.empty()) {
    const TurnSpan span = open.back();
    open.pop_back();
    const double moved = 0.5 * (span.to - span.from) * radius;
    const double middle = 0.5 * (span.from + span.to);
    const double clear = gap(small, pivot, unit, middle, still, moved);
    if (clear > moved) continue;
    // Met in all of the span: met by what is left of the box when all that it moves is taken off it.
    const bool whole =
        clear <= 0.0 && 2.0 * moved < thinnest && gap(shrunk(small, moved), pivot, unit, middle, still, 0.0) <= 0.0;
    if (whole || moved < kDoubt) {
      if (!met.empty() && met.back().to >= span.from - 1e-12) {
        met.back().to = span.to;
      } else {
        met.push_back(span);
      }
      continue;
    }
    open.push_back({middle, span.to});
    open.push_back({span.from, middle});
  }
  return met;
}

std::optional<double> slot_left_at(const model::Board& wood, const Solid& pipe, Vec3 pivot, Direction axis, int sense,
                                   double touch) {
  const Vec3 unit = axis.unit() * sense;
  const Solid outline = shrunk(model::box(wood.lo, wood.hi), touch);
  const Vec3 off = pipe.a - pivot;
  const Vec3 arm = off - unit * dot(off, unit);
  const double step = kDoubt / std::max(norm(arm), 1.0);
  // Seen from the board the pipe goes round the other way; it is out once the outline is farther than its radius.
  for (double angle = 0.0; angle <= kQuarter; angle += step) {
    const Vec3 at = pivot + turned(arm, unit, -angle);
    double beyond = 0.0;
    for (int i = 0; i < 3; ++i) {
      if (i == axis.axis()) continue;
      const double d = std::max({outline.a[i] - at[i], at[i] - outline.b[i], 0.0});
      beyond += d * d;
    }
    if (std::sqrt(beyond) > pipe.radius + 2.0 * kDoubt) return angle;  // clear beyond doubt
  }
  return {};
}

}  // namespace dryfit::planner::judge
