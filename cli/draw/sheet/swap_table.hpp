#pragma once
/// A table of what it costs to take a part out again: a row a part, a column a number of steps done.
#include <string>
#include <vector>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/look.hpp"

namespace dryfit::cli {

/// One row of prices, undo moves.
struct SwapRow {
  std::string label;
  std::vector<int> at_least;  ///< after 0, 1, ... steps
  std::vector<int> at_most;   ///< of the same length
};

/// True when step k (from 1) makes the piece dearer to take out by two moves or more.
[[nodiscard]] bool jumps_at(const SwapRow& row, std::size_t k);

/// Columns that fit side by side in that width, mm.
[[nodiscard]] std::size_t swap_columns(double width);
/// Width of a cell when that many columns are to fill it.
[[nodiscard]] double swap_cell(double width, std::size_t columns);
[[nodiscard]] double swap_head_height();
[[nodiscard]] double swap_row_height();
/// The numbers of the steps `first` to `first + count - 1` over their columns; `y` is the top.
void draw_swap_head(Canvas& canvas, double x, double y, const std::string& corner, std::size_t first, std::size_t count,
                    double cell);
/// The row's label and its cells. The darker, the dearer; a price known only between bounds is its upper bound with a
/// rising dot; a thick left edge: the step before made it dearer by two or more.
void draw_swap_row(Canvas& canvas, double x, double y, const SwapRow& row, std::size_t first, std::size_t count,
                   double cell);

}  // namespace dryfit::cli
