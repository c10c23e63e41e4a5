#include "cli/draw/paint/stamp_canvas.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cli/draw/paint/svg_text.hpp"

namespace dryfit::cli {
namespace {

/// Page mm a unit of a body drawn at `scale`: a power of two of 0.05 mm of the room, as coarse as the page allows.
double body_unit(double scale) {
  constexpr double kTrue = 0.04, kRoom = 0.05;
  return scale * kRoom * std::exp2(std::floor(std::log2(kTrue / (scale * kRoom))));
}

/// Widths differ by steps that no eye sees, so that more bodies look alike.
double even_width(double width) {
  constexpr double kStep = 0.02;
  return width < kStep ? width : kStep * std::round(width / kStep);
}

/// "3 4", "3-4": a minus sign parts two numbers as well.
std::string pair_text(long long x, long long y) { return fmt::format("{}{}{}", x, y < 0 ? "" : " ", y); }

/// A length on the page in the units of whatever group it is used in.
std::string page_length(double mm) { return fmt::format("calc({}px*var(--k))", short_number(mm, 2)); }

}  // namespace

void StampCanvas::Bounds::add(Place p, double reach) {
  lo = {std::min(lo.x, p.x - reach), std::min(lo.y, p.y - reach)};
  hi = {std::max(hi.x, p.x + reach), std::max(hi.y, p.y + reach)};
}

void StampCanvas::Bounds::add(const Bounds& other) {
  lo = {std::min(lo.x, other.lo.x), std::min(lo.y, other.lo.y)};
  hi = {std::max(hi.x, other.hi.x), std::max(hi.y, other.hi.y)};
}

bool StampCanvas::Bounds::meets(const Bounds& other) const {
  return lo.x <= other.hi.x && other.lo.x <= hi.x && lo.y <= other.hi.y && other.lo.y <= hi.y;
}

StampCanvas::StampCanvas(StampSheet& sheet) : sheet_(sheet) { levels_.front().origin = Place{}; }

void StampCanvas::move_to(double x, double y) {
  path_.push_back({'M', placed(x, y)});
  drawing_ = true;
}

void StampCanvas::line_to(double x, double y) {
  path_.push_back({drawing_ ? 'L' : 'M', placed(x, y)});
  drawing_ = true;
}

void StampCanvas::close() {
  if (drawing_) path_.push_back({'Z', {}});
}

void StampCanvas::arc_to(Place to, double radius, bool wide) { path_.push_back({'A', to, radius, wide}); }

std::string StampCanvas::path_text(bool adding) {
  for (Level& level : levels_) {
    if (!level.origin) level.origin = path_.front().to;
  }
  Level& level = levels_.back();
  if (!adding) level.x = level.y = level.from_x = level.from_y = 0;
  std::string out;
  char before = 'Z';
  for (const Stroke& step : path_) {
    if (step.kind == 'Z') {
      out += 'z';
      level.x = level.from_x;
      level.y = level.from_y;
      before = 'Z';
      continue;
    }
    level.bounds.add(step.to, 2.0 * step.radius);
    const long long x = std::llround((step.to.x - level.origin->x) / level.unit);
    const long long y = std::llround((step.to.y - level.origin->y) / level.unit);
    const long long dx = x - level.x, dy = y - level.y;
    if (step.kind == 'L' && before == 'L' && dx == 0 && dy == 0) continue;
    if (step.kind == 'A') {
      out += fmt::format("a{0} {0} 0 {1} 1 {2}", short_number(step.radius / level.unit, 0), step.wide ? 1 : 0,
                         pair_text(dx, dy));
    } else if (step.kind == 'M') {
      out += 'm' + pair_text(dx, dy);
      level.from_x = x;
      level.from_y = y;
    } else {
      // After m and l the letter need not be said again.
      out += before == 'M' || before == 'L' ? (dx < 0 ? "" : " ") : "l";
      out += pair_text(dx, dy);
    }
    level.x = x;
    level.y = y;
    before = step.kind;
  }
  return out;
}

void StampCanvas::page_group(double unit) {
  if (levels_.size() > 1 || unit == group_) return;
  Level& page = levels_.front();
  page.last.clear();
  if (group_ > 0.0) page.markup += "</g>";
  if (unit > 0.0) {
    page.markup += fmt::format("<g transform=\"scale({})\" style=\"--k:{}\">", short_number(unit / kUnit, 6),
                               short_number(1.0 / unit, 4));
  }
  group_ = unit;
}

void StampCanvas::paint_path(const std::string& name, bool line) {
  if (path_.empty()) return;
  page_group(0.0);
  constexpr std::string_view kEnd = "\"/>";
  if (line && levels_.back().last == name) {
    const std::string more = path_text(true);
    Level& level = levels_.back();
    level.markup.resize(level.markup.size() - kEnd.size());
    level.markup.append(more).append(kEnd);
    return;
  }
  const std::string path = path_text(false);
  Level& level = levels_.back();
  level.markup += fmt::format("<path class=\"{}\" d=\"{}\"/>", name, path);
  level.last = line ? name : "";
}

void StampCanvas::finish_path() {
  filled_to_ = 0;
  path_.clear();
  drawing_ = false;
}

void StampCanvas::fill_and_keep() {
  paint_path(sheet_.paint("fill:" + hex_of(now_.tone)), false);
  filled_to_ = path_.empty() ? 0 : levels_.back().markup.size();
}

void StampCanvas::fill() {
  fill_and_keep();
  finish_path();
}

std::string StampCanvas::stroke_class() {
  std::string paint =
      fmt::format("stroke:{};stroke-width:{}", hex_of(now_.tone), page_length(even_width(now_.line_width)));
  if (now_.round_ends) paint += ";stroke-linecap:round";
  if (now_.round_corners) paint += ";stroke-linejoin:round";
  if (now_.dash_on > 0.0)
    paint += fmt::format(";stroke-dasharray:{} {}", page_length(now_.dash_on), page_length(now_.dash_off));
  return sheet_.paint(paint);
}

void StampCanvas::stroke() {
  Level& level = levels_.back();
  // What was just filled is outlined by a second class of the same path.
  if (!path_.empty() && filled_to_ > 0 && filled_to_ == level.markup.size()) {
    const std::size_t path = level.markup.rfind("\" d=\"");
    level.markup.insert(path, " " + stroke_class());
  } else {
    paint_path(stroke_class(), true);
  }
  finish_path();
}

void StampCanvas::clip() {
  page_group(0.0);
  if (levels_.size() == 1) {
    Bounds bounds;
    for (const Stroke& step : path_) {
      if (step.kind != 'Z') bounds.add(step.to, 2.0 * step.radius);
    }
    seen_ = bounds;
  }
  if (path_.empty()) path_.push_back({'M', {}});
  const std::string name = sheet_.clip(path_text(false));
  Level& level = levels_.back();
  level.markup += fmt::format("<g clip-path=\"url(#{})\">", name);
  level.last.clear();
  ++now_.clips;
  finish_path();
}

void StampCanvas::save() { saved_.push_back({now_, seen_}); }

void StampCanvas::restore() {
  int open = now_.clips - saved_.back().setting.clips;
  if (open > 0) page_group(0.0);
  for (; open > 0; --open) levels_.back().markup += "</g>";
  levels_.back().last.clear();
  now_ = saved_.back().setting;
  seen_ = saved_.back().seen;
  saved_.pop_back();
}

void StampCanvas::text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) {
  if (text.empty()) return;
  page_group(0.0);
  Level& page = levels_.front();
  const auto units = [](double mm) { return short_number(mm / kUnit, 0); };
  const std::string name = sheet_.paint(
      fmt::format("fill:{};font-size:{}px{}", hex_of(tone), units(style.size), style.bold ? ";font-weight:bold" : ""));
  const Place to = placed(x, y);
  std::string at = fmt::format("x=\"{}\" y=\"{}\"", units(to.x), units(to.y));
  if (std::abs(now_.turned) > 1e-9) {
    at = fmt::format("transform=\"translate({} {}) rotate({})\"", units(to.x), units(to.y),
                     short_number(now_.turned * 180.0 / std::numbers::pi, 2));
  }
  page.markup += fmt::format("<text class=\"{}\" {} textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>",
                             name, at, units(text_width(text, style)), xml_text(text));
  page.last.clear();
}

void StampCanvas::begin_body(double scale) {
  finish_path();
  Level level;
  level.unit = levels_.size() > 1 ? levels_.back().unit : body_unit(scale);
  levels_.push_back(std::move(level));
}

void StampCanvas::end_body() {
  const Level body = std::move(levels_.back());
  levels_.pop_back();
  if (body.markup.empty()) return;
  const bool on_page = levels_.size() == 1;
  if (on_page && seen_ && !seen_->meets(body.bounds)) return;
  if (on_page) page_group(body.unit);
  Level& level = levels_.back();
  const long long x = std::llround((body.origin->x - level.origin->x) / body.unit);
  const long long y = std::llround((body.origin->y - level.origin->y) / body.unit);
  level.markup += fmt::format("<use href=\"#{}\" x=\"{}\" y=\"{}\"/>", sheet_.stamp(body.markup), x, y);
  level.last.clear();
  level.bounds.add(body.bounds);
}

std::string StampCanvas::finish() {
  page_group(0.0);
  for (int open = now_.clips; open > 0; --open) levels_.front().markup += "</g>";
  return std::move(levels_.front().markup);
}

}  // namespace dryfit::cli
