#pragma once
/// The screws that a fastening takes: how many, and of which size a counter hands them out.
#include <optional>
#include <string>

#include "model/frame/frame.hpp"

namespace dryfit::planner {

struct ScrewSize {
  int number = 0;  ///< gauge where the frame is in inches, width in mm where it is not; 0: not known
  bool inches = false;
  double length = 0.0;  ///< mm, as it is sold
  /// "No. 12", "5 mm"; "" where it is not known.
  [[nodiscard]] std::string gauge() const;
};

/// In all: as many per flange as its plate has holes, two per strap, clip and board fixing (common practice, no
/// source). O(1).
[[nodiscard]] int screw_count(const model::Frame& frame, const model::Fastening& fastening);

/// Into a board the longest that is shorter than the board is thick, 40 mm (1-1/2 in) at most; into floor, wall or
/// ceiling through what covers studs and joists, which takes 65 mm (2-1/2 in), under a clip 50 mm (2 in). None where
/// nothing sold is short enough, and for a board whose edge lies against a surface: angles hold that. Gauge by the size
/// of the pipe (all common practice, no source). O(1).
[[nodiscard]] std::optional<ScrewSize> screw_size(const model::Frame& frame, const model::Fastening& fastening);

}  // namespace dryfit::planner
