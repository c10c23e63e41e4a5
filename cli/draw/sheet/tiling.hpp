#pragma once
/// The pages of a full-size template over its board.
#include "cli/draw/sheet/board_plan.hpp"

namespace dryfit::cli {

/// How the pages lie over the board. Page (column, row) counts from the lower left. Beyond the last hole there are
/// none.
struct Tiling {
  static constexpr double kMargin = 8.0;    ///< of the paper, mm: printers leave that much white
  static constexpr double kFoot = 27.0;     ///< strip for rulers and words
  static constexpr double kOverlap = 10.0;  ///< that neighbours share
  static constexpr double kCross = 6.0;     ///< that the cross of a hole reaches beyond its rim
  static constexpr double kSurround = 6.0;  ///< beyond the board's edges, so that the edge lines are seen
  double paper_width = 0.0;
  double paper_height = 0.0;
  double width = 0.0;  ///< what a page shows
  double height = 0.0;
  int columns = 1;
  int rows = 1;
  bool whole = true;  ///< false: the far edges of the board have no page
  [[nodiscard]] int pages() const { return columns * rows; }
};

/// On paper of that size; the fewest pages that show all that is drilled and sawn.
[[nodiscard]] Tiling tiling_for(const BoardPlan& plan, double paper_width, double paper_height);

}  // namespace dryfit::cli
