#include "planner/state/axis_lines.hpp"

#include <cmath>

#include "model/frame/frame.hpp"

namespace dryfit::planner {
namespace {

using model::Direction;
using model::Vec3;

/// Two axes are one line when they are parallel and less than this apart, mm.
constexpr double kCoaxial = 0.05;
/// Wide against kCoaxial, so that what is near a point is nearly always in the point's own cell, mm.
constexpr double kCell = 1.0;

Vec3 foot_of(Vec3 point, Direction axis) {
  const Vec3 unit = axis.unit();
  return point - unit * dot(point, unit);
}

long long cell_of(double v) { return static_cast<long long>(std::floor(v / kCell)); }

}  // namespace

int AxisLines::find(Vec3 point, Direction axis) const {
  axis = either_way(axis);
  const Vec3 foot = foot_of(point, axis);
  int nearest = model::kNone;
  double least = kCoaxial;
  // Every cell within reach, so that rounding cannot split a line.
  for (long long x = cell_of(foot.x - kCoaxial); x <= cell_of(foot.x + kCoaxial); ++x) {
    for (long long y = cell_of(foot.y - kCoaxial); y <= cell_of(foot.y + kCoaxial); ++y) {
      for (long long z = cell_of(foot.z - kCoaxial); z <= cell_of(foot.z + kCoaxial); ++z) {
        const auto found = cells_.find({axis, x, y, z});
        if (found == cells_.end()) continue;
        for (const Line& line : found->second) {
          const double apart = norm(line.foot - foot);
          if (apart >= least) continue;
          least = apart;
          nearest = line.number;
        }
      }
    }
  }
  return nearest;
}

void AxisLines::add(Vec3 point, Direction axis, int number) {
  axis = either_way(axis);
  const Vec3 foot = foot_of(point, axis);
  cells_[{axis, cell_of(foot.x), cell_of(foot.y), cell_of(foot.z)}].push_back({foot, number});
}

}  // namespace dryfit::planner
