#include "cli/draw/paint/pen.hpp"

#include <numbers>
#include <sstream>

namespace dryfit::cli {
namespace {

void ready(cairo_t* cairo, double width, look::Tone tone) {
  cairo_set_source_rgb(cairo, tone.red, tone.green, tone.blue);
  cairo_set_line_width(cairo, width);
  cairo_set_line_cap(cairo, CAIRO_LINE_CAP_BUTT);
}

}  // namespace

void draw_line(cairo_t* cairo, double x0, double y0, double x1, double y1, double width, look::Tone tone) {
  ready(cairo, width, tone);
  cairo_move_to(cairo, x0, y0);
  cairo_line_to(cairo, x1, y1);
  cairo_stroke(cairo);
}

void draw_dashed(cairo_t* cairo, double x0, double y0, double x1, double y1, double width, double dash,
                 look::Tone tone) {
  const double dashes[] = {dash, 0.6 * dash};
  cairo_set_dash(cairo, dashes, 2, 0.0);
  draw_line(cairo, x0, y0, x1, y1, width, tone);
  cairo_set_dash(cairo, nullptr, 0, 0.0);
}

void draw_box(cairo_t* cairo, double x, double y, double width, double height, double line, look::Tone tone) {
  ready(cairo, line, tone);
  cairo_rectangle(cairo, x, y, width, height);
  cairo_stroke(cairo);
}

void draw_circle(cairo_t* cairo, double x, double y, double radius, double line, look::Tone tone) {
  ready(cairo, line, tone);
  cairo_new_sub_path(cairo);
  cairo_arc(cairo, x, y, radius, 0.0, 2.0 * std::numbers::pi);
  cairo_close_path(cairo);
  cairo_stroke(cairo);
}

void draw_cross(cairo_t* cairo, double x, double y, double reach, double line, look::Tone tone) {
  draw_line(cairo, x - reach, y, x + reach, y, line, tone);
  draw_line(cairo, x, y - reach, x, y + reach, line, tone);
}

void draw_text_upright(cairo_t* cairo, double x, double y, const std::string& text, const TextStyle& style,
                       look::Tone tone) {
  cairo_save(cairo);
  cairo_translate(cairo, x, y);
  cairo_rotate(cairo, -std::numbers::pi / 2.0);
  draw_text_centred(cairo, 0.0, 0.0, text, style, tone);
  cairo_restore(cairo);
}

std::vector<std::string> broken_lines(cairo_t* cairo, const std::string& text, double width, const TextStyle& style) {
  std::vector<std::string> out;
  std::istringstream words(text);
  std::string word;
  while (words >> word) {
    if (!out.empty() && measure(cairo, out.back() + " " + word, style).width <= width) {
      out.back() += " " + word;
    } else {
      out.push_back(word);
    }
  }
  return out;
}

double draw_paragraph(cairo_t* cairo, double x, double y, double width, double leading, const std::string& text,
                      const TextStyle& style, look::Tone tone) {
  for (const std::string& line : broken_lines(cairo, text, width, style)) {
    draw_text(cairo, x, y, line, style, tone);
    y += leading;
  }
  return y;
}

}  // namespace dryfit::cli
