#pragma once
/// Which face of a board is seen, and which way its grain runs: marked on sheets and templates alike.
#include <string>
#include <vector>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/look.hpp"
#include "cli/draw/picture/labels.hpp"
#include "cli/draw/sheet/board_plan.hpp"

namespace dryfit::cli {

/// "UPPER FACE".
[[nodiscard]] std::string face_words(const BoardPlan& plan);
/// "grain left to right", "grain up and down"; "" for a stock that has none.
[[nodiscard]] std::string grain_words(const BoardPlan& plan);

/// The words of the face and a double arrow along the grain, near the middle of `area` (page mm) and off what is
/// `busy`; boxes thinner than 1.5 mm are lines, which may be crossed where nothing else is left. False, with nothing
/// drawn, when there is no room. `ground` is the tone that the mark stands on.
bool draw_face_mark(Canvas& canvas, const BoardPlan& plan, RectMm area, const std::vector<RectMm>& busy,
                    look::Tone ground);

/// A filled arrow head whose tip is at the point, pointing along (dx, dy) of length 1.
void draw_arrow_head(Canvas& canvas, double x, double y, double dx, double dy);

}  // namespace dryfit::cli
