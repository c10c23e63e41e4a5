#pragma once
/// A round enlargement beside the picture, for a new piece that is drawn too small to be recognised.
#include <cmath>
#include <optional>
#include <vector>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/number_grid.hpp"

namespace dryfit::cli {

/// A circle of free paper and what it shows.
struct Lens {
  PageMap::Point centre;  ///< page mm
  double radius = 0.0;
  PageMap::Point subject;  ///< middle of what is enlarged, in the picture
  double zoom = 1.0;       ///< how much larger than the picture
  PageMap map;             ///< for what is drawn within

  [[nodiscard]] bool shows(PageMap::Point p) const { return std::hypot(p.x - centre.x, p.y - centre.y) < radius - 1.0; }
  [[nodiscard]] RectMm box() const { return {centre.x - radius, centre.y - radius, 2 * radius, 2 * radius}; }
};

/// Finds room for a lens when the visible emphasised parts are under 11 mm across, or where nothing turns are several
/// things of that size far apart, of which the one that is seen best is enlarged. nullopt when they are larger, not
/// seen, or no free circle of at least 7 mm radius is left. `ring`: radius in the picture, page mm, of an arrow round
/// the piece for which there must be room in the lens, 0 for none.
[[nodiscard]] std::optional<Lens> place_lens(const PageMap& map, const NumberGrid& grid,
                                             const std::vector<bool>& emphasised, double ring);

/// Draws the glass: a ring round the subject, a line to the lens, and white paper in it, to which drawing is then
/// clipped until end_lens.
void begin_lens(Canvas& canvas, const Lens& lens);
void end_lens(Canvas& canvas, const Lens& lens);

}  // namespace dryfit::cli
