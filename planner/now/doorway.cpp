#include "planner/now/doorway.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"

namespace dryfit::planner {
namespace {

using model::Vec3;

/// What is longer by less still passes, mm: no more than rounding.
constexpr double kAsLong = 1e-6;

/// Square to `axis`, turned from the next axis toward the one after it.
Vec3 turned(int axis, double angle) {
  Vec3 d;
  d[(axis + 1) % 3] = std::cos(angle);
  d[(axis + 2) % 3] = std::sin(angle);
  return d;
}

double lacking(const std::array<double, 3>& edges, const std::array<double, 3>& sides) {
  double most = 0.0;
  for (std::size_t i = 0; i < 3; ++i) most = std::max(most, edges[i] - sides[i]);
  return most <= kAsLong ? 0.0 : most;
}

double volume(const std::array<double, 3>& edges) { return edges[0] * edges[1] * edges[2]; }

}  // namespace

Doorway::Doorway(const model::Frame& frame, const Opening& opening)
    : sides_(opening.sides), spans_(frame.parts.size()) {
  std::sort(sides_.begin(), sides_.end());
  std::array<Vec3, kDirections> directions;
  for (int axis = 0; axis < 3; ++axis) {
    directions[at(axis)][axis] = 1.0;
    for (int k = 0; k < 2 * kTurns; ++k) {
      directions[at(3 + axis * 2 * kTurns + k)] = turned(axis, k * std::numbers::pi / (2 * kTurns));
    }
  }
  for (std::size_t p = 0; p < frame.parts.size(); ++p) {
    for (std::size_t d = 0; d < directions.size(); ++d) {
      const double middle = dot(frame.parts[p].centre, directions[d]);
      Span span{middle, middle};
      bool first = true;
      for (const model::Solid& solid : frame.parts[p].solids) {
        const double low = -reach_along(solid, -directions[d]), high = reach_along(solid, directions[d]);
        span = first ? Span{low, high} : Span{std::min(span.from, low), std::max(span.to, high)};
        first = false;
      }
      spans_[p][d] = span;
    }
  }
}

PieceBox Doorway::box_of(const std::vector<PartId>& parts) const {
  Spans whole = spans_[at(parts.front())];
  for (const PartId part : parts) {
    for (std::size_t d = 0; d < whole.size(); ++d) {
      whole[d].from = std::min(whole[d].from, spans_[at(part)][d].from);
      whole[d].to = std::max(whole[d].to, spans_[at(part)][d].to);
    }
  }
  const auto length = [&](int direction) { return whole[at(direction)].to - whole[at(direction)].from; };
  PieceBox best;
  for (int axis = 0; axis < 3; ++axis) {
    const int first = 3 + axis * 2 * kTurns;
    for (int k = 0; k < kTurns; ++k) {
      std::array<double, 3> edges{length(axis), length(first + k), length(first + k + kTurns)};
      std::sort(edges.begin(), edges.end());
      const double lacks = lacking(edges, sides_);
      const bool begins = axis == 0 && k == 0, passes = lacks <= 0.0;
      // Boxes that differ by rounding alone are one, so that the first of them is kept.
      const bool smaller = volume(edges) < volume(best.edges) * (1.0 - kAsLong);
      if (begins || (passes && !best.passes()) || (passes == best.passes() && smaller)) {
        best = {edges, lacks};
      }
    }
  }
  return best;
}

}  // namespace dryfit::planner
