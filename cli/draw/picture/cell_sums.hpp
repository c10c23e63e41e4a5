#pragma once
/// How many cells of a grid are of a kind, in any box of it: a summed-area table (F. C. Crow, "Summed-area tables for
/// texture mapping", SIGGRAPH 1984).
#include <algorithm>
#include <vector>

#include "cli/draw/paint/number_grid.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {

class CellSums {
 public:
  /// Counts the cells of which `counts(number)` is true. O(cells); `grid` has to outlive this.
  template <class Counts>
  CellSums(const NumberGrid& grid, const Counts& counts) : grid_(grid) {
    const auto w = at(grid.width) + 1;
    sums_.assign(w * (at(grid.height) + 1), 0);
    for (std::size_t y = 1; y <= at(grid.height); ++y) {
      int line = 0;
      for (std::size_t x = 1; x < w; ++x) {
        line += counts(grid.cells[(y - 1) * (w - 1) + x - 1]) ? 1 : 0;
        sums_[y * w + x] = sums_[(y - 1) * w + x] + line;
      }
    }
  }
  /// Of the cells that the box touches; what lies off the grid counts nothing. O(1).
  [[nodiscard]] int in(const RectMm& box) const {
    const auto clamped = [](int v, int hi) { return at(std::clamp(v, 0, hi)); };
    const std::size_t x0 = clamped(grid_.column(box.x), grid_.width);
    const std::size_t x1 = clamped(grid_.column(box.x + box.width) + 1, grid_.width);
    const std::size_t y0 = clamped(grid_.row(box.y), grid_.height);
    const std::size_t y1 = clamped(grid_.row(box.y + box.height) + 1, grid_.height);
    const auto w = at(grid_.width) + 1;
    return sums_[y1 * w + x1] - sums_[y0 * w + x1] - sums_[y1 * w + x0] + sums_[y0 * w + x0];
  }

 private:
  const NumberGrid& grid_;
  std::vector<int> sums_;
};

}  // namespace dryfit::cli
