#include "cli/draw/paint/pen.hpp"

#include <numbers>
#include <sstream>

namespace dryfit::cli {
namespace {

void ready(Canvas& canvas, double width, look::Tone tone) {
  canvas.use(tone);
  canvas.line_width(width);
  canvas.round_ends(false);
}

}  // namespace

void draw_line(Canvas& canvas, double x0, double y0, double x1, double y1, double width, look::Tone tone) {
  ready(canvas, width, tone);
  canvas.move_to(x0, y0);
  canvas.line_to(x1, y1);
  canvas.stroke();
}

void draw_dashed(Canvas& canvas, double x0, double y0, double x1, double y1, double width, double dash,
                 look::Tone tone) {
  canvas.dashes(dash, 0.6 * dash);
  draw_line(canvas, x0, y0, x1, y1, width, tone);
  canvas.dashes(0.0, 0.0);
}

void draw_box(Canvas& canvas, double x, double y, double width, double height, double line, look::Tone tone) {
  ready(canvas, line, tone);
  canvas.box(x, y, width, height);
  canvas.stroke();
}

void draw_circle(Canvas& canvas, double x, double y, double radius, double line, look::Tone tone) {
  ready(canvas, line, tone);
  canvas.begin();
  canvas.arc(x, y, radius, 0.0, 2.0 * std::numbers::pi);
  canvas.close();
  canvas.stroke();
}

void fill_outlined(Canvas& canvas, look::Tone ground, look::Tone outline, double line) {
  canvas.use(ground);
  canvas.fill_and_keep();
  canvas.use(outline);
  canvas.line_width(line);
  canvas.stroke();
}

void draw_cross(Canvas& canvas, double x, double y, double reach, double line, look::Tone tone) {
  draw_line(canvas, x - reach, y, x + reach, y, line, tone);
  draw_line(canvas, x, y - reach, x, y + reach, line, tone);
}

void draw_text_upright(Canvas& canvas, double x, double y, const std::string& text, const TextStyle& style,
                       look::Tone tone) {
  canvas.save();
  canvas.translate(x, y);
  canvas.rotate(-std::numbers::pi / 2.0);
  draw_text_centred(canvas, 0.0, 0.0, text, style, tone);
  canvas.restore();
}

std::vector<std::string> broken_lines(Canvas& canvas, const std::string& text, double width, const TextStyle& style) {
  std::vector<std::string> out;
  std::istringstream words(text);
  std::string word;
  while (words >> word) {
    if (!out.empty() && measure(canvas, out.back() + " " + word, style).width <= width) {
      out.back() += " " + word;
    } else {
      out.push_back(word);
    }
  }
  return out;
}

double draw_paragraph(Canvas& canvas, double x, double y, double width, double leading, const std::string& text,
                      const TextStyle& style, look::Tone tone) {
  for (const std::string& line : broken_lines(canvas, text, width, style)) {
    draw_text(canvas, x, y, line, style, tone);
    y += leading;
  }
  return y;
}

}  // namespace dryfit::cli
