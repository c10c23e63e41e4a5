#pragma once
/// The pages of a full-size template over its board.
#include <vector>

#include "cli/draw/sheet/board_plan.hpp"

namespace dryfit::cli {

/// How the pages lie over the board. Page (column, row) counts from the lower left. A page without a hole or slot is
/// not printed. Neighbours that share kOverlap or more are joined; where the next hole is further away, the next page
/// lies on its own. No seam goes through a hole that finds room on a page.
struct Tiling {
  static constexpr double kMargin = 8.0;    ///< of the paper, mm: printers leave that much white
  static constexpr double kFoot = 35.0;     ///< strip for rulers and words
  static constexpr double kOverlap = 10.0;  ///< that neighbours share
  static constexpr double kCross = 6.0;     ///< that the cross of a hole reaches beyond its rim
  static constexpr double kSurround = 6.0;  ///< beyond the board's edges, so that the edge lines are seen
  double paper_width = 0.0;
  double paper_height = 0.0;
  double width = 0.0;  ///< what a page shows
  double height = 0.0;
  std::vector<double> lefts;   ///< where each column begins on the board, ascending
  std::vector<double> lowers;  ///< where each row begins
  std::vector<bool> printed;   ///< row by row
  bool whole = true;           ///< false: the far edges of the board have no page
  [[nodiscard]] int columns() const { return static_cast<int>(lefts.size()); }
  [[nodiscard]] int rows() const { return static_cast<int>(lowers.size()); }
  [[nodiscard]] bool prints(int column, int row) const;
  /// Both are printed, and share a strip along which they are taped; `column`, `row` of the left or the lower one.
  [[nodiscard]] bool joined_right(int column, int row) const;
  [[nodiscard]] bool joined_above(int column, int row) const;
  /// Number of a page as it is printed, from 1: rows from below, each from the left.
  [[nodiscard]] int number(int column, int row) const;
  [[nodiscard]] int pages() const;
};

/// On paper of that size; the fewest pages that show all that is drilled and sawn.
[[nodiscard]] Tiling tiling_for(const BoardPlan& plan, double paper_width, double paper_height);

}  // namespace dryfit::cli
