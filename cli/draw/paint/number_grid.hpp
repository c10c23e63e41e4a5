#pragma once
/// Which part is seen where: the picture as a grid of part numbers. Labels, arrows and the choice of a view ask it.
#include <vector>

#include "cli/draw/paint/painter.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {

/// Row by row from the top left corner of the picture; kNone where the paper shows.
struct NumberGrid {
  int width = 0;
  int height = 0;
  double left = 0.0;  ///< page mm of the grid's left edge
  double top = 0.0;
  double per_mm = 1.0;  ///< cells per page mm
  std::vector<model::PartId> cells;
  [[nodiscard]] model::PartId at(int column, int row) const {
    if (column < 0 || row < 0 || column >= width || row >= height) return model::kNone;
    return cells[dryfit::at(row) * dryfit::at(width) + dryfit::at(column)];
  }
  // Labels ask for some hundred thousand cells of a picture: no call for each.
  [[nodiscard]] int column(double x) const { return cell_below((x - left) * per_mm); }
  [[nodiscard]] int row(double y) const { return cell_below((y - top) * per_mm); }

 private:
  /// As std::floor.
  static int cell_below(double v) {
    const int whole = static_cast<int>(v);
    return whole - (v < whole ? 1 : 0);
  }
};

struct RectMm {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
};

/// Paints the tree as numbers. `only`: see paint_numbers.
[[nodiscard]] NumberGrid grid_of(const DepthTree& tree, const PageMap& map, RectMm area, double per_mm,
                                 const std::vector<bool>& only = {});

}  // namespace dryfit::cli
