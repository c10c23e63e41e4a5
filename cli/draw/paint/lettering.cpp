#include "cli/draw/paint/lettering.hpp"

namespace dryfit::cli {

TextSize measure(Canvas& canvas, const std::string& text, const TextStyle& style) {
  // Capitals and figures of the usual sans faces are about 0.73 em high.
  return {canvas.text_width(text, style), 0.73 * style.size};
}

void draw_text(Canvas& canvas, double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) {
  canvas.text(x, y, text, style, tone);
}

void draw_text_centred(Canvas& canvas, double x, double y, const std::string& text, const TextStyle& style,
                       look::Tone tone) {
  draw_text(canvas, x - measure(canvas, text, style).width / 2.0, y, text, style, tone);
}

}  // namespace dryfit::cli
