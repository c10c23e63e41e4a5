#pragma once
/// One card on paper.
#include "cli/cards/deck.hpp"
#include "cli/draw/paint/canvas.hpp"

namespace dryfit::cli {

/// Fills `area` (page mm) with the card. Lettering is `size` times the usual and shrinks when the words are many; all
/// of them are always there. The picture takes what room they leave. Throws DrawError.
void draw_card(Canvas& canvas, RectMm area, const model::Frame& frame, const Card& card, int of, double size);

}  // namespace dryfit::cli
