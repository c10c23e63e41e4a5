#pragma once
/// Whether a piece of work can be tilted in the room that it is built in, and how a finished frame gets between two
/// surfaces that face each other. Lengths in mm.
#include <optional>
#include <string>
#include <vector>

#include "planner/effort/effort.hpp"

namespace dryfit::planner {

/// What a piece of work needs on the way from lying to standing or back.
struct Tilt {
  double diagonal = 0.0;              ///< tallest that it gets on the way
  std::optional<double> room_height;  ///< floor to ceiling, where the frame has both
  bool fits = true;                   ///< false: it would strike the ceiling or lie across a wall
  std::string obstacle;               ///< what it strikes; "" when it fits
};
/// `parts` not empty. O(parts).
[[nodiscard]] Tilt tilt_of(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts);

/// A flange that is screwed in deeper for a while.
struct Give {
  PartId flange = model::kNone;
  double turns = 0.0;  ///< further in: whole ones, up to wrench-tight
  double gives = 0.0;  ///< mm that the frame gets shorter by at its end
};

/// Between two facing surfaces: flanges that are screwed in deeper so that the frame goes in between, then backed off.
struct WayIn {
  std::vector<std::string> surfaces;  ///< the two facing ones
  bool upright = false;               ///< the surfaces are floor and ceiling
  /// At the first surface and at the second: all flanges there, each by the same number of turns, as far as the least
  /// of them goes; none where something else stands against the surface, or one of them cannot go deeper.
  std::vector<Give> ends[2];
  [[nodiscard]] double gives(int end) const { return ends[end].empty() ? 0.0 : ends[end].front().gives; }
  [[nodiscard]] double gives() const { return gives(0) + gives(1); }
};
/// One per two facing surfaces that the frame is screwed to. O(surfaces^2 * fastenings * parts).
[[nodiscard]] std::vector<WayIn> ways_in(const model::Frame& frame);

/// How much more room than there is between floor and ceiling a joint takes that is made on work which stands between
/// them: it begins higher by the thread's length, and the flanges that are on already give what they can. At most 0
/// where there is room, or none is needed. `parts`: the work when the joint is made, `move` undoes that. O(parts).
[[nodiscard]] double headroom_missing(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts,
                                      const Move& move);

/// Floor to ceiling, where the frame has both, mm.
[[nodiscard]] std::optional<double> height_of_room(const model::Frame& frame);

/// Two surfaces face each other; where none do, any piece can be tilted.
[[nodiscard]] bool is_confined(const model::Frame& frame);

/// The surface that faces `normal`, or nullptr.
[[nodiscard]] const model::Surface* surface_facing(const model::Frame& frame, model::Direction normal);

}  // namespace dryfit::planner
