#pragma once
/// The dimensioned drawing of a board: its holes and slots, each measured from two edges.
#include <string>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/sheet/board_plan.hpp"

namespace dryfit::cli {

/// The strip of a page that the drawing may fill, page mm.
struct PlanPlace {
  double top = 0.0;
  double bottom = 0.0;
  double margin = 0.0;  ///< left and right
  double paper_width = 0.0;
};

/// Draws as large as there is room for, at most 1:1; returns the scale. Values along the lower and the left edge stand
/// beside their lines, edges are named, the corner that all is measured from is marked.
double draw_plan(Canvas& canvas, const BoardPlan& plan, model::Units units, const PlanPlace& place);

/// A length on the drawing: in the one unit that the sheet is made for.
[[nodiscard]] std::string length_in(double mm, model::Units units);

}  // namespace dryfit::cli
