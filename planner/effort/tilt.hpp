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

/// A flange between two facing surfaces that is screwed in deeper so that the frame goes in between, then backed off.
struct WayIn {
  std::vector<std::string> surfaces;  ///< the two facing ones
  PartId flange = model::kNone;       ///< kNone: no flange can give way
  double turns = 0.0;                 ///< further in
  double gives = 0.0;                 ///< mm that it gets shorter by
  bool upright = false;               ///< the surfaces are floor and ceiling
};
/// One per two facing surfaces that the frame is screwed to. O(surfaces^2 * fastenings).
[[nodiscard]] std::vector<WayIn> ways_in(const model::Frame& frame);

/// Two surfaces face each other; where none do, any piece can be tilted.
[[nodiscard]] bool is_confined(const model::Frame& frame);

/// The surface that faces `normal`, or nullptr.
[[nodiscard]] const model::Surface* surface_facing(const model::Frame& frame, model::Direction normal);

}  // namespace dryfit::planner
