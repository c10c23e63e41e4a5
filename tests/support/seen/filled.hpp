#pragma once
/// Grids drawn by hand.
#include "cli/draw/paint/number_grid.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::tests {

/// Gives a box of the paper to a part.
inline void fill(cli::NumberGrid& grid, model::PartId part, const cli::RectMm& box) {
  for (int y = grid.row(box.y); y < grid.row(box.y + box.height); ++y) {
    for (int x = grid.column(box.x); x < grid.column(box.x + box.width); ++x) {
      grid.cells[at(y) * at(grid.width) + at(x)] = part;
    }
  }
}

}  // namespace dryfit::tests
