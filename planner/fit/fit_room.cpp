#include "planner/fit/fit_room.hpp"

#include <cmath>
#include <map>
#include <optional>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"

namespace dryfit::planner {

using model::Frame;
using model::kNone;
using model::kRoom;
using model::PartId;
using model::Solid;
using model::Vec3;

namespace {

/// Told to be no overlap with a hair to spare, mm.
constexpr double kMayOverlap = kOverlap - 0.01;

/// Directions that may part two bodies: the axes, and from one cylinder square to the other.
std::vector<Vec3> directions(const Solid& a, const Solid& b) {
  std::vector<Vec3> out;
  for (int axis = 0; axis < 3; ++axis) {
    for (const double sign : {1.0, -1.0}) {
      Vec3 d;
      d[axis] = sign;
      out.push_back(d);
    }
  }
  for (const Solid* s : {&a, &b}) {
    if (s->shape != Solid::Shape::cylinder) continue;
    const Vec3 along = s->along.unit();
    Vec3 off = (b.a + b.b - a.a - a.b) * 0.5;
    off -= along * dot(off, along);
    if (norm(off) > kOverlap) out.push_back(off * (1.0 / norm(off)));
  }
  return out;
}

/// How far `a` stands in `b` as seen along the unit vector `u`; below nought they are apart that way.
double depth(const Solid& a, const Solid& b, Vec3 u) { return model::reach_along(a, u) + model::reach_along(b, -u); }

class Rows {
 public:
  Rows(const Frame& frame, const Lineage& lineage, const Frame& after)
      : frame_(frame), lineage_(lineage), after_(after), loose_(loose_root(frame)) {}

  void add(const Overlap& overlap) {
    if (overlap.surface != kNone) {
      behind(overlap);
    } else {
      pair(overlap);
    }
  }
  std::vector<RoomRow> take() { return std::move(rows_); }

 private:
  const std::vector<Solid>& solids(const Frame& frame, PartId part) const { return frame.part(part).solids; }

  /// Terms of how far `part` moves along `u`, less how far `other` does.
  void set_terms(RoomRow& row, PartId part, PartId other, Vec3 u) const {
    std::map<int, double> sum;
    for (int axis = 0; axis < 3; ++axis) {
      if (u[axis] == 0.0) continue;
      for (const TurnTerm& term : lineage_.difference(part, other, axis)) sum[term.joint] += u[axis] * term.mm_per_turn;
      if (loose_ == kNone || !frame_.placed_by[at(loose_)].loose[at(axis)]) continue;
      row.per_shift[at(axis)] = u[axis] * ((lineage_.root(part, axis) == loose_ ? 1.0 : 0.0) -
                                           (lineage_.root(other, axis) == loose_ ? 1.0 : 0.0));
    }
    for (const auto& [joint, mm] : sum) {
      if (std::abs(mm) > kHair) row.terms.push_back({joint, mm});
    }
  }
  static bool moves(const RoomRow& row) { return !row.terms.empty() || row.per_shift != std::array<double, 3>{}; }

  void behind(const Overlap& overlap) {
    const model::Surface& surface = frame_.surfaces[at(overlap.surface)];
    const Vec3 inward = -surface.normal.unit();
    double deepest = -1e30;
    for (const Solid& solid : solids(frame_, overlap.a)) {
      deepest = std::max(deepest, model::reach_along(solid, inward));
    }
    RoomRow row{overlap, deepest - inward[surface.normal.axis()] * surface.at - kMayOverlap, {}, {}};
    set_terms(row, overlap.a, kRoom, inward);
    if (moves(row)) rows_.push_back(std::move(row));
  }

  void pair(const Overlap& overlap) {
    const auto& a = solids(after_, overlap.a);
    const auto& b = solids(after_, overlap.b);
    for (std::size_t i = 0; i < a.size(); ++i) {
      for (std::size_t k = 0; k < b.size(); ++k) {
        if (!model::hits(a[i], b[k], {}, kOverlap)) continue;
        if (auto row = parting(overlap, i, k)) rows_.push_back(std::move(*row));
      }
    }
  }

  /// The row of two bodies that meet, along the direction in which the least turning parts them.
  std::optional<RoomRow> parting(const Overlap& overlap, std::size_t i, std::size_t k) const {
    const Solid& a = solids(after_, overlap.a)[i];
    const Solid& b = solids(after_, overlap.b)[k];
    const Solid& a_made = solids(frame_, overlap.a)[i];
    const Solid& b_made = solids(frame_, overlap.b)[k];
    std::optional<RoomRow> best;
    std::pair<bool, double> best_rank;
    for (const Vec3& u : directions(a, b)) {
      RoomRow row{overlap, depth(a_made, b_made, u) - kMayOverlap, {}, {}};
      const std::pair rank{row.gap > 0.0, depth(a, b, u)};
      if (best && rank >= best_rank) continue;
      set_terms(row, overlap.a, overlap.b, u);
      if (!moves(row)) continue;
      best = std::move(row);
      best_rank = rank;
    }
    return best;
  }

  const Frame& frame_;
  const Lineage& lineage_;
  const Frame& after_;
  PartId loose_;
  std::vector<RoomRow> rows_;
};

}  // namespace

std::vector<RoomRow> room_rows(const Frame& frame, const Lineage& lineage, const Frame& after,
                               const std::vector<Overlap>& overlaps) {
  Rows rows(frame, lineage, after);
  for (const Overlap& overlap : overlaps) rows.add(overlap);
  return rows.take();
}

}  // namespace dryfit::planner
