#include "cli/draw/paint/markup_canvas.hpp"

#include <cmath>
#include <numbers>

#include "cli/draw/paint/letter_widths.hpp"

namespace dryfit::cli {

MarkupCanvas::Place MarkupCanvas::placed(double x, double y) const {
  const double c = std::cos(now_.turned);
  const double s = std::sin(now_.turned);
  return {now_.x + c * x - s * y, now_.y + s * x + c * y};
}

void MarkupCanvas::arc(double x, double y, double radius, double from, double to) {
  while (to < from) to += 2.0 * std::numbers::pi;
  line_to(x + radius * std::cos(from), y + radius * std::sin(from));
  // An arc in SVG is given by its ends: those of more than half a turn are drawn in two.
  const int count = to - from > 0.99 * std::numbers::pi ? 2 : 1;
  for (int k = 1; k <= count; ++k) {
    const double angle = from + (to - from) * k / count;
    arc_to(placed(x + radius * std::cos(angle), y + radius * std::sin(angle)), radius,
           (to - from) / count > std::numbers::pi);
  }
}

void MarkupCanvas::box(double x, double y, double width, double height) {
  move_to(x, y);
  line_to(x + width, y);
  line_to(x + width, y + height);
  line_to(x, y + height);
  close();
}

void MarkupCanvas::dashes(double on, double off) {
  now_.dash_on = on;
  now_.dash_off = off;
}

void MarkupCanvas::translate(double x, double y) {
  const Place to = placed(x, y);
  now_.x = to.x;
  now_.y = to.y;
}

double MarkupCanvas::text_width(const std::string& text, const TextStyle& style) {
  return width_of_letters(text, style.bold) * style.size;
}

}  // namespace dryfit::cli
