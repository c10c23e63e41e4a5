#pragma once
/// The arrow that says how the new piece moves.
#include <functional>
#include <optional>
#include <vector>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/number_grid.hpp"

namespace dryfit::cli {

struct Arrow {
  enum class Kind {
    turn,  ///< a right-handed turn about `along` (a thread is screwed home the way `along` points)
    slide  ///< a straight move along `along`
  };
  Kind kind = Kind::slide;
  Vec3 at;     ///< turn: a point of the axis beside the new piece; slide: where the move ends (any point of the piece)
  Vec3 along;  ///< any length but zero
};

/// What an arrow covers on the page, so that labels keep off, and its line.
struct ArrowDrawing {
  std::vector<PageMap::Point> line;  ///< page mm, from tail to head
  double thickness = 0.7;
  double head = 2.4;  ///< length of the head
  std::vector<RectMm> taken;
};

/// Finds room for the arrow. A slide arrow goes beside the emphasised parts where it hides least; a turn arrow goes
/// round the axis in front of the emphasised part, `radius` room mm out. nullopt when nothing would be seen (a move
/// straight at the viewer). With `inside`, all of a turn arrow lies where it says so, or there is none.
[[nodiscard]] std::optional<ArrowDrawing> place_arrow(const Arrow& arrow, const PageMap& map, const NumberGrid& grid,
                                                      const std::vector<bool>& emphasised, double radius,
                                                      const std::function<bool(PageMap::Point)>& inside = {});

void draw_arrow(Canvas& canvas, const ArrowDrawing& drawing);

}  // namespace dryfit::cli
