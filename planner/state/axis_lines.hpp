#pragma once
/// Which axis line a point and a direction are on: the same question of contacts, which number the lines, and of
/// bodies.
#include <map>
#include <tuple>
#include <vector>

#include "model/geometry/direction.hpp"
#include "model/geometry/vec.hpp"

namespace dryfit::planner {

/// The one of a direction and its opposite that stands for both.
[[nodiscard]] constexpr model::Direction either_way(model::Direction d) { return d < -d ? -d : d; }

/// Numbered lines in space, known by their direction (up to sign) and their foot point nearest the origin.
class AxisLines {
 public:
  /// The line through `point` along `axis`, or kNone. Of several within reach the nearest. O(log lines).
  [[nodiscard]] int find(model::Vec3 point, model::Direction axis) const;
  void add(model::Vec3 point, model::Direction axis, int number);

 private:
  struct Line {
    model::Vec3 foot;
    int number;
  };
  using Cell = std::tuple<model::Direction, long long, long long, long long>;
  std::map<Cell, std::vector<Line>> cells_;  ///< by where the foot point is
};

}  // namespace dryfit::planner
