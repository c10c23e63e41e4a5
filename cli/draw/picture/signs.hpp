#pragma once
/// Small signs beside a picture: the axes of the room, and where up is when the frame is finished.
#include <vector>

#include "cli/draw/body/view.hpp"
#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/number_grid.hpp"

namespace dryfit::cli {

/// Draws what finds free paper in the grid outside of `taken`, and adds its boxes to `taken` and to `insets`. The arrow
/// "up when finished" is drawn for what does not lie as it will stand, near the work and off the edges of the `bench`,
/// where there is room; the axes go into a corner. Returns how many found no room.
int draw_signs(Canvas& canvas, const NumberGrid& grid, const View& view, double text,
               const std::vector<PageMap::Point>& bench, std::vector<RectMm>& taken, std::vector<RectMm>& insets);

}  // namespace dryfit::cli
