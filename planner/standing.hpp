#pragma once
/// Whether a part-built frame stands on its own, how it is turned while it is built, and whether it can be stood up
/// under the ceiling.
/// Notation: standing, as in the finished frame; laid, on its back or side on floor or bench; over, upside down. The
/// support polygon is the convex hull of what touches the floor. Lengths in mm.
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "planner/effort.hpp"
#include "planner/order.hpp"

namespace dryfit::planner {

/// A point on the floor.
struct Point2 {
  double x = 0.0;
  double y = 0.0;
};

/// Convex hull, against the clock, without points on its edges. O(n log n).
[[nodiscard]] std::vector<Point2> convex_hull(std::vector<Point2> points);
/// How far inside of the hull a point lies: negative outside. A hull of one or two points has no inside.
[[nodiscard]] double depth_inside(const std::vector<Point2>& hull, Point2 point);

enum class Pose { standing, laid, over };
[[nodiscard]] const char* word_for(Pose pose);

/// What a person prefers; `free`: whatever is least trouble.
enum class PosePreference { free, laid, standing };

/// How a piece of work stands.
struct Stand {
  double margin = 0.0;  ///< how far inside of the support polygon the centre of mass is; negative: it tips over
  bool stands() const { return margin >= 0.0; }
};
/// In a pose; `parts` not empty. O(bodies log bodies).
[[nodiscard]] Stand stand_of(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts,
                             Pose pose);

/// The work is laid down, stood up or turned over.
struct Turning {
  int before_step = 0;  ///< it is turned before the step of this number; one more than the last: at the end
  Pose from = Pose::standing;
  Pose to = Pose::standing;
  std::vector<PartId> parts;
  double mass = 0.0;
  double diagonal = 0.0;              ///< tallest that it gets on the way
  std::optional<double> room_height;  ///< floor to ceiling, where the frame has both
  bool fits = true;                   ///< false: it would strike the ceiling or lie across a wall
  std::string obstacle;               ///< what it strikes; "" when it fits
};

/// A flange between two facing surfaces that is screwed in deeper so that the frame goes in between, then backed off.
struct WayIn {
  std::vector<std::string> surfaces;  ///< the two facing ones
  PartId flange = model::kNone;       ///< kNone: no flange can give way
  double turns = 0.0;                 ///< further in
  double gives = 0.0;                 ///< mm that it gets shorter by
};

struct StandingPlan {
  std::vector<Pose> pose_of_step;
  std::vector<int> propped;  ///< numbers of steps after which the work does not stand by itself
  std::vector<Turning> turnings;
  std::vector<WayIn> ways_in;
  double handling = 0.0;  ///< what the poses cost beyond the order's effort, seconds
};

/// The poses that cost least for these steps: turning the work, working from below or against the slope, holding what
/// does not stand. Shortest way over (step, pose). O(steps * parts).
[[nodiscard]] StandingPlan plan_standing(const model::Frame& frame, const ContactList& list, const Effort& effort,
                                         const std::vector<Step>& steps, PosePreference preference);

}  // namespace dryfit::planner
