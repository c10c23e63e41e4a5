#pragma once
/// Whether a part-built frame stands on its own: its centre of mass over its support polygon, which is the convex hull
/// of what touches the floor, and far enough from its edge for the height that it is at. Lengths in mm.
#include <vector>

#include "planner/effort/effort.hpp"
#include "planner/order/pose.hpp"

namespace dryfit::planner {

/// What is within it of the lowest point touches the floor, mm.
inline constexpr double kFootBand = 5.0;

/// A point on the floor.
struct Point2 {
  double x = 0.0;
  double y = 0.0;
};

/// Convex hull, against the clock, without points on its edges. O(n log n).
[[nodiscard]] std::vector<Point2> convex_hull(std::vector<Point2> points);
/// How far inside of the hull a point lies: negative outside. A hull of one or two points has no inside.
[[nodiscard]] double depth_inside(const std::vector<Point2>& hull, Point2 point);

/// How a piece of work stands.
struct Stand {
  double margin = 0.0;  ///< how far inside of the support polygon the centre of mass is; negative: it tips over
  double height = 0.0;  ///< of the centre of mass above the floor
  /// It may lean by the tip angle of model/data/effort.csv without falling over.
  [[nodiscard]] bool stands() const;
};
/// Where a level pipe touches the floor: flat: over its whole width, as if it were chocked; round: along a line, so
/// that one alone rolls.
enum class Touch { flat, round };
/// In a pose; `parts` not empty. O(bodies log bodies).
[[nodiscard]] Stand stand_of(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts,
                             Pose pose, Touch touch = Touch::flat);

}  // namespace dryfit::planner
