#include "cli/draw/sheet/swap_table.hpp"

#include <algorithm>

#include "cli/draw/paint/pen.hpp"

namespace dryfit::cli {
namespace {

constexpr double kLabel = 20.0;
constexpr double kCell = 5.0;
constexpr double kSwapRow = 4.6;
constexpr look::Tone kSwapGrid{0.75, 0.75, 0.75};

/// Paper up to one move, then a step darker with each, never so dark that the number is lost.
look::Tone tone_for(int price) {
  const double grey = std::max(0.55, 1.0 - 0.07 * std::max(0, price - 1));
  return {grey, grey, grey};
}

}  // namespace

bool jumps_at(const SwapRow& row, std::size_t k) {
  return k > 0 && row.at_most[k - 1] > 0 && row.at_least[k] >= row.at_most[k - 1] + 2;
}

std::size_t swap_columns(double width) { return static_cast<std::size_t>(std::max(1.0, (width - kLabel) / kCell)); }
double swap_cell(double width, std::size_t columns) {
  constexpr double kWidest = 9.0;
  return std::clamp((width - kLabel) / static_cast<double>(columns), kCell, kWidest);
}
double swap_head_height() { return 5.0; }
double swap_row_height() { return kSwapRow; }

void draw_swap_head(Canvas& canvas, double x, double y, const std::string& corner, std::size_t first, std::size_t count,
                    double cell) {
  const TextStyle style{2.6, true};
  draw_text(canvas, x, y + 3.6, corner, style);
  for (std::size_t i = 0; i < count; ++i) {
    draw_text_centred(canvas, x + kLabel + (static_cast<double>(i) + 0.5) * cell, y + 3.6, std::to_string(first + i),
                      style);
  }
}

void draw_swap_row(Canvas& canvas, double x, double y, const SwapRow& row, std::size_t first, std::size_t count,
                   double cell) {
  TextStyle label{3.0, true};
  const double wide = measure(canvas, row.label, label).width;
  if (wide > kLabel - 1.5) label.size *= (kLabel - 1.5) / wide;
  draw_text(canvas, x, y + 3.4, row.label, label);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t k = first + i;
    const double left = x + kLabel + static_cast<double>(i) * cell;
    const int price = row.at_most[k];
    if (price > 0) {
      const look::Tone tone = tone_for(price);
      canvas.use(tone);
      canvas.box(left, y, cell, kSwapRow);
      canvas.fill();
      draw_text_centred(canvas, left + cell / 2.0, y + 3.3, std::to_string(price), {2.8, false});
      if (row.at_least[k] < price) draw_circle(canvas, left + cell - 0.8, y + 0.9, 0.3, 0.3);
    }
    draw_box(canvas, left, y, cell, kSwapRow, 0.1, kSwapGrid);
    if (jumps_at(row, k)) draw_line(canvas, left, y, left, y + kSwapRow, 0.7);
  }
}

}  // namespace dryfit::cli
