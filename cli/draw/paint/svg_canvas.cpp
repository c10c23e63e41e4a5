#include "cli/draw/paint/svg_canvas.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <numbers>

#include "cli/draw/paint/svg_text.hpp"

namespace dryfit::cli {
namespace {

/// At most three decimals: a thousandth of a millimetre is below what any printer shows.
std::string fine(double value) { return short_number(value, 3); }

/// Names of clips hold in the whole page that pictures are put into: equal names have to mean equal outlines.
std::string name_of_outline(const std::string& path) {
  std::uint64_t hash = 14695981039346656037ULL;  // FNV-1a, 64 bits
  for (const char c : path) {
    hash ^= static_cast<unsigned char>(c);
    hash *= 1099511628211ULL;
  }
  return fmt::format("c{:016x}", hash);
}

}  // namespace

SvgCanvas::SvgCanvas(double width_mm, double height_mm, const std::string& title) {
  const std::string width = fine(width_mm);
  const std::string height = fine(height_mm);
  out_ = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\" "
      "font-family=\"'DejaVu Sans',Verdana,sans-serif\">\n",
      width, height);
  if (!title.empty()) out_ += fmt::format("<title>{}</title>\n", xml_text(title));
  out_ += fmt::format("<path fill=\"#ffffff\" d=\"M0 0H{}V{}H0Z\"/>\n", width, height);
}

std::string SvgCanvas::text_of(Place place) { return fine(place.x) + ' ' + fine(place.y); }

void SvgCanvas::move_to(double x, double y) {
  path_ += 'M' + text_of(placed(x, y));
  drawing_ = true;
}

void SvgCanvas::line_to(double x, double y) {
  path_ += (drawing_ ? 'L' : 'M') + text_of(placed(x, y));
  drawing_ = true;
}

void SvgCanvas::close() {
  if (drawing_) path_ += 'Z';
}

void SvgCanvas::arc_to(Place to, double radius, bool wide) {
  path_ += fmt::format("A{0} {0} 0 {1} 1 {2}", fine(radius), wide ? 1 : 0, text_of(to));
}

void SvgCanvas::add_outline(const std::string& paint) {
  if (!path_.empty()) out_ += fmt::format("<path {} d=\"{}\"/>\n", paint, path_);
}

void SvgCanvas::fill_and_keep() { add_outline(fmt::format("fill=\"{}\"", hex_of(now_.tone))); }

void SvgCanvas::fill() {
  fill_and_keep();
  path_.clear();
  drawing_ = false;
}

void SvgCanvas::stroke() {
  std::string paint =
      fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"", hex_of(now_.tone), fine(now_.line_width));
  if (now_.round_ends) paint += " stroke-linecap=\"round\"";
  if (now_.round_corners) paint += " stroke-linejoin=\"round\"";
  if (now_.dash_on > 0.0) {
    paint += fmt::format(" stroke-dasharray=\"{} {}\"", fine(now_.dash_on), fine(now_.dash_off));
  }
  add_outline(paint);
  path_.clear();
  drawing_ = false;
}

void SvgCanvas::clip() {
  const std::string name = name_of_outline(path_);
  out_ += fmt::format("<clipPath id=\"{0}\"><path d=\"{1}\"/></clipPath>\n<g clip-path=\"url(#{0})\">\n", name, path_);
  ++now_.clips;
  path_.clear();
  drawing_ = false;
}

void SvgCanvas::save() { saved_.push_back(now_); }

void SvgCanvas::restore() {
  for (int open = now_.clips - saved_.back().clips; open > 0; --open) out_ += "</g>\n";
  now_ = saved_.back();
  saved_.pop_back();
}

void SvgCanvas::text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) {
  if (text.empty()) return;
  std::string at;
  if (std::abs(now_.turned) > 1e-9) {
    at = fmt::format("transform=\"translate({}) rotate({})\"", text_of(placed(x, y)),
                     fine(now_.turned * 180.0 / std::numbers::pi));
  } else {
    at = fmt::format("x=\"{}\" y=\"{}\"", fine(now_.x + x), fine(now_.y + y));
  }
  out_ += fmt::format(
      "<text {} font-size=\"{}\"{} fill=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>\n", at,
      fine(style.size), style.bold ? " font-weight=\"bold\"" : "", hex_of(tone), fine(text_width(text, style)),
      xml_text(text));
}

std::string SvgCanvas::finish() {
  for (int open = now_.clips; open > 0; --open) out_ += "</g>\n";
  out_ += "</svg>\n";
  return std::move(out_);
}

}  // namespace dryfit::cli
