#include "planner/moves/turning_board.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/convex.hpp"

namespace dryfit::planner {
namespace {

using model::Solid;
using model::Vec3;

/// Way of the far corner, mm, under which what is not known to be clear counts as a hit.
constexpr double kDoubt = 0.05;

/// What is out of a slot is clear by more than what counts as doubt.
constexpr double kClear = 2.0 * kDoubt;

double farthest_corner(const Solid& body, Vec3 pivot, int axis) {
  const model::Bounds bounds = bounds_of(body);
  const int i = (axis + 1) % 3, j = (axis + 2) % 3;
  double radius = 1e-3;
  for (const double x : {bounds.lo[i], bounds.hi[i]}) {
    for (const double y : {bounds.lo[j], bounds.hi[j]}) {
      radius = std::max(radius, std::hypot(x - pivot[i], y - pivot[j]));
    }
  }
  return radius;
}

/// True for a body that keeps something across the axis when `by` is taken off it all round.
bool thicker_than(const Solid& body, double by, int axis) {
  const model::Bounds bounds = bounds_of(body);
  for (const int i : {(axis + 1) % 3, (axis + 2) % 3}) {
    if (bounds.hi[i] - bounds.lo[i] <= 2.0 * by) return false;
  }
  return true;
}

}  // namespace

TurningBoard::TurningBoard(std::vector<Solid> bodies, Vec3 pivot, int axis)
    : bodies_(std::move(bodies)), pivot_(pivot), axis_(axis) {
  for (const Solid& body : bodies_) radius_.push_back(farthest_corner(body, pivot, axis));
}

double TurningBoard::gap(const Solid& body, double angle, const Solid& still, double enough) const {
  return distance_turned(body, pivot_, axis_, angle, still, enough);
}

double TurningBoard::turns_to(const Still& still, int sense, double limit) const {
  double least = limit;
  for (std::size_t b = 0; b < bodies_.size(); ++b) {
    // No point of the body moves farther than its far corner, so a gap lets it turn by that much for certain.
    for (double angle = still.counts_from; angle < least;) {
      const double rest = radius_[b] * (least - angle);
      const double clear = gap(bodies_[b], sense * angle, still.solid, rest);
      if (clear > rest) break;
      if (clear < kDoubt) {
        least = angle;
        break;
      }
      angle += clear / radius_[b];
    }
  }
  return least;
}

std::optional<double> TurningBoard::clear_at(const std::vector<Still>& stills, int sense, double to,
                                             std::vector<int>& met) const {
  struct Span {
    double from, to;
  };
  const double widest = *std::max_element(radius_.begin(), radius_.end());
  std::vector<Span> open{{0.0, to}};
  while (!open.empty()) {
    const Span span = open.back();
    open.pop_back();
    const double middle = 0.5 * (span.from + span.to), half = 0.5 * (span.to - span.from);
    bool clear = true, blocked_whole = false;
    for (const Still& still : stills) {
      for (std::size_t b = 0; b < bodies_.size() && !blocked_whole; ++b) {
        if (gap(bodies_[b], sense * middle, still.solid, 0.0) > 0.0) continue;
        clear = false;
        met.push_back(still.number);
        // What is still met by the body made smaller by all that it moves in this span is met in all of it.
        const double moves = half * radius_[b];
        blocked_whole = thicker_than(bodies_[b], moves, axis_) &&
                        gap(shrunk(bodies_[b], moves), sense * middle, still.solid, 0.0) <= 0.0;
      }
      if (blocked_whole) break;
    }
    if (clear) return sense * middle;
    if (blocked_whole || half * widest < kDoubt) continue;
    open.push_back({middle, span.to});
    open.push_back({span.from, middle});
  }
  return std::nullopt;
}

std::optional<double> TurningBoard::comes_clear(const Solid& outline, const Solid& still, Vec3 pivot, int axis,
                                                int sense, double limit) {
  const double radius = farthest_corner(outline, pivot, axis);
  for (double angle = 0.0; angle <= limit;) {
    if (distance_turned(outline, pivot, axis, sense * angle, still, kClear) > kClear) return angle;
    double step = kDoubt;
    for (double deep = 8.0; deep > kDoubt; deep *= 0.5) {
      if (!thicker_than(outline, deep, axis)) continue;
      if (distance_turned(shrunk(outline, deep), pivot, axis, sense * angle, still, 0.0) > 0.0) continue;
      step = deep;
      break;
    }
    angle += step / radius;
  }
  return std::nullopt;
}

}  // namespace dryfit::planner
