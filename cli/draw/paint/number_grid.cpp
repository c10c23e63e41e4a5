#include "cli/draw/paint/number_grid.hpp"

#include <algorithm>
#include <cmath>

#include "cli/draw/paint/number_canvas.hpp"

namespace dryfit::cli {

NumberGrid grid_of(const DepthTree& tree, const PageMap& map, RectMm area, double per_mm,
                   const std::vector<bool>& only) {
  NumberGrid out;
  out.width = std::max(1, static_cast<int>(std::ceil(area.width * per_mm)));
  out.height = std::max(1, static_cast<int>(std::ceil(area.height * per_mm)));
  out.left = area.x;
  out.top = area.y;
  out.per_mm = per_mm;
  NumberCanvas canvas(out.width, out.height, area.x, area.y, per_mm);
  paint_numbers(canvas, tree, map, only);
  out.cells = canvas.take_cells();
  return out;
}

}  // namespace dryfit::cli
