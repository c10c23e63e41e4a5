#pragma once
/// Small line figures for help that a step needs: a second person, a prop, a clamp.
#include <string>

#include "cli/draw/paint/canvas.hpp"

namespace dryfit::cli {

enum class Figure { person, prop, clamp };

/// Within a square of `size` mm whose upper left corner is at (x, y).
void draw_figure(Canvas& canvas, Figure figure, double x, double y, double size);

/// What stands beside it.
[[nodiscard]] std::string word_beside(Figure figure);

}  // namespace dryfit::cli
