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
  double over = 0.0;       ///< mm of other parts that a line from the ring to the glass runs over
  PageMap map;             ///< for what is drawn within

  static constexpr double kOver = 0.5;   ///< mm of other parts under a line that nobody minds
  static constexpr double kClose = 7.0;  ///< mm between ring and glass

  [[nodiscard]] bool shows(PageMap::Point p) const { return std::hypot(p.x - centre.x, p.y - centre.y) < radius - 1.0; }
  /// A glass close to its ring is known to belong to it without a line over what lies between.
  [[nodiscard]] bool has_line() const {
    const double gap = std::hypot(centre.x - subject.x, centre.y - subject.y) - radius - radius / zoom;
    return gap > 0.0 && (over <= kOver || gap > kClose);
  }
  [[nodiscard]] RectMm box() const { return {centre.x - radius, centre.y - radius, 2 * radius, 2 * radius}; }
};

/// Finds room for a lens when the visible emphasised parts are under 11 mm across, or where nothing turns are several
/// things of that size far apart, of which the one that is seen best is enlarged. nullopt when they are larger, not
/// seen, or no free circle of at least 7 mm radius is left outside of `taken`. `ring`: radius in the picture, page mm,
/// of an arrow round the piece for which there must be room in the lens, 0 for none. The glass keeps off the ring that
/// is drawn round the piece, and is no larger than the piece fills.
[[nodiscard]] std::optional<Lens> place_lens(const PageMap& map, const NumberGrid& grid,
                                             const std::vector<bool>& emphasised, double ring,
                                             const std::vector<RectMm>& taken);

/// Draws the glass: a ring round the subject, a line to the lens where it has one, and white paper in it, to which
/// drawing is then clipped until end_lens.
void begin_lens(Canvas& canvas, const Lens& lens);
void end_lens(Canvas& canvas, const Lens& lens);

}  // namespace dryfit::cli
