#pragma once
/// A board as it lies on the bench: seen square onto the face it will show, with its holes.
/// Notation: x runs to the right along the sheet from the left edge, y upward from the lower edge, mm.
#include <string>
#include <vector>

#include "model/frame/frame.hpp"
#include "planner/shop/drill.hpp"

namespace dryfit::cli {

enum class PaperSize { a4, letter };

struct PlanHole {
  std::string label;  ///< of the pipe; "" when it has none
  double x = 0.0;     ///< centre
  double y = 0.0;
  double diameter = 0.0;  ///< or width of the slot
  std::string bit;        ///< "1-3/8 in"; "" when no stock bit has that diameter
  bool notch = false;
  int open_x = 0;  ///< notch: the way it is open: -1, 0 or 1 along x and y
  int open_y = 0;
  std::vector<std::string> warnings;
};

/// Two holes whose posts should be measured before the board is drilled, or have been.
struct PlanSpacing {
  std::string between;    ///< "P3 to P8"
  double spacing = 0.0;   ///< centre to centre as drawn
  double slack = 0.0;     ///< that the holes give
  double stray = 0.0;     ///< how far threads may put the posts off
  bool binds = false;     ///< not even as drawn
  bool measured = false;  ///< `spacing` is that of the posts as measured
};

struct BoardPlan {
  std::string label;
  double width = 0.0;   ///< along x
  double height = 0.0;  ///< along y
  double thickness = 0.0;
  std::string stock;
  std::string face;  ///< of the face that is seen: "upper", "front", ...; no words to read, see side_named()
  std::string left;  ///< names of the edges, as the board will lie in the frame: "left", "front", ...
  std::string right;
  std::string lower;
  std::string upper;
  std::vector<PlanHole> holes;          ///< in the sheet's order
  std::vector<PlanSpacing> to_measure;  ///< the worst first, at most six
  std::vector<std::string> warnings;
};

/// True when one template serves both: same size, same edges, same holes at the same places; labels may differ.
[[nodiscard]] bool drilled_alike(const BoardPlan& a, const BoardPlan& b);

/// Lays a drill sheet out as it is seen from the side that the board faces. A board that faces up lies with its
/// back edge away from the reader, one that stands with its upper edge away.
[[nodiscard]] BoardPlan plan_of(const model::Frame& frame, const planner::DrillSheet& sheet);

}  // namespace dryfit::cli
