#pragma once
/// What a change of mind costs after each step, as bars: one for every number of steps done.
#include <string>
#include <vector>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/number_grid.hpp"

namespace dryfit::cli {

struct PriceChart {
  std::string title;
  std::string verdict;           ///< a line under the title
  std::string unit;              ///< what the bars count
  std::string mark;              ///< words at the line before `decide_before`
  std::vector<double> at_least;  ///< after 0, 1, ... steps
  std::vector<double> at_most;   ///< of the same length; where it is more, the price is only known between the two
  int decide_before = 0;         ///< first step that costs; 0 with a mark: even the first
  std::vector<int> jumps;        ///< steps whose bars are dark
  std::vector<std::string> notes;
  int built = -1;     ///< the bar of now; -1: none
  bool whole = true;  ///< prices are whole numbers
};

/// Height that the chart wants at 180 mm of width, mm.
[[nodiscard]] double price_chart_height(const PriceChart& chart);
/// Greys and hatching alone, so that it prints in black. Page units are mm.
void draw_price_chart(Canvas& canvas, RectMm area, const PriceChart& chart);

}  // namespace dryfit::cli
