#pragma once
/// Sizes over all, drawn beside a whole frame.
#include <string>
#include <vector>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/number_grid.hpp"
#include "model/geometry/vec.hpp"

namespace dryfit::cli {

/// A line between two points of the room with its length beside it.
struct Dimension {
  model::Vec3 from;
  model::Vec3 to;
  model::Vec3 away;  ///< of length 1: the way from the frame to the line
  std::string text;
};

/// Width along the front's foot, depth along the right side's, height up the left of the front, for a viewer in front,
/// on the right and above. `texts`: width, depth, height.
[[nodiscard]] std::vector<Dimension> dimensions_over_all(model::Vec3 lo, model::Vec3 hi,
                                                         const std::vector<std::string>& texts);

/// Room that the lines and their texts take beside the frame, mm of the page.
[[nodiscard]] double dimension_room(double text);

/// Draws them and adds what they cover to `taken`.
void draw_dimensions(Canvas& canvas, const PageMap& map, const std::vector<Dimension>& dimensions, double text,
                     std::vector<RectMm>& taken);

}  // namespace dryfit::cli
