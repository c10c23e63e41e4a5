#include "cli/draw/picture/signs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <string>

#include "cli/draw/paint/lettering.hpp"
#include "cli/draw/paint/pen.hpp"
#include "cli/draw/picture/cell_sums.hpp"
#include "cli/draw/picture/labels.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace signs_says {
constexpr const char* kUpWhenFinished = marked("up when finished");
constexpr const char* kFrontWhenFinished = marked("front when finished");
constexpr const char* kAxisRight = marked_in("an axis", "right");
constexpr const char* kAxisBack = marked_in("an axis", "back");
constexpr const char* kAxisUp = marked_in("an axis", "up");
}  // namespace signs_says

constexpr double kCoarse = 1.0;  // mm between places that are tried

RectMm page_of(const NumberGrid& grid) {
  return {grid.left, grid.top, grid.width / grid.per_mm, grid.height / grid.per_mm};
}

bool is_free(const NumberGrid& grid, const CellSums& parts, const RectMm& box, const std::vector<RectMm>& taken) {
  const RectMm page = page_of(grid);
  if (box.x < page.x || box.y < page.y || box.x + box.width > page.x + page.width ||
      box.y + box.height > page.y + page.height) {
    return false;
  }
  for (const RectMm& other : taken) {
    if (overlap(box, other)) return false;
  }
  return parts.in(box) == 0;
}

/// Where parts are seen.
CellSums parts_of(const NumberGrid& grid) {
  return CellSums(grid, [](model::PartId id) { return id >= 0; });
}

/// The middle of all that is drawn.
PageMap::Point middle_of(const NumberGrid& grid) {
  double x = 0.0, y = 0.0, n = 0.0;
  for (int row = 0; row < grid.height; row += 2) {
    for (int column = 0; column < grid.width; column += 2) {
      if (grid.at(column, row) < 0) continue;
      x += column;
      y += row;
      n += 1.0;
    }
  }
  n = std::max(n, 1.0);
  return {grid.left + x / n / grid.per_mm, grid.top + y / n / grid.per_mm};
}

std::optional<RectMm> nearest_free(const NumberGrid& grid, double width, double height, PageMap::Point to,
                                   const std::vector<RectMm>& taken) {
  const RectMm page = page_of(grid);
  const CellSums parts = parts_of(grid);
  std::optional<RectMm> best;
  double least = std::numeric_limits<double>::infinity();
  for (double y = page.y; y + height <= page.y + page.height; y += kCoarse) {
    for (double x = page.x; x + width <= page.x + page.width; x += kCoarse) {
      const double away = std::hypot(x + width / 2.0 - to.x, y + height / 2.0 - to.y);
      if (away >= least || !is_free(grid, parts, {x, y, width, height}, taken)) continue;
      least = away;
      best = RectMm{x, y, width, height};
    }
  }
  return best;
}

/// A hollow arrow of `length` mm along a direction of the page of length 1.
void draw_hollow_arrow(Canvas& canvas, PageMap::Point middle, PageMap::Point way, double length, double width) {
  canvas.begin();  // text that was drawn before leaves a point behind
  const PageMap::Point side{-way.y, way.x};
  const auto at = [&](double along, double aside) {
    canvas.line_to(middle.x + along * way.x + aside * side.x, middle.y + along * way.y + aside * side.y);
  };
  const double half = length / 2.0;
  const double head = std::min(0.5 * length, 1.1 * width);
  at(-half, -0.25 * width);
  at(half - head, -0.25 * width);
  at(half - head, -0.6 * width);
  at(half, 0.0);
  at(half - head, 0.6 * width);
  at(half - head, 0.25 * width);
  at(-half, 0.25 * width);
  canvas.close();
  fill_outlined(canvas, look::kPaper, look::kInk, 0.3);
}

/// Small boxes along the sides of a polygon.
std::vector<RectMm> edges_of(const std::vector<PageMap::Point>& corners) {
  std::vector<RectMm> edges;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const PageMap::Point a = corners[i], b = corners[(i + 1) % corners.size()];
    const int steps = static_cast<int>(std::hypot(b.x - a.x, b.y - a.y)) + 1;
    for (int k = 0; k <= steps; ++k) {
      const double t = static_cast<double>(k) / steps;
      edges.push_back({a.x + t * (b.x - a.x) - 0.5, a.y + t * (b.y - a.y) - 0.5, 1.0, 1.0});
    }
  }
  return edges;
}

/// An arrow along a direction of the frame's own, with words under it, on free paper; off `edges` where there is room.
/// False when there is none; a way that is hardly seen from here needs none.
bool draw_own_way(Canvas& canvas, const NumberGrid& grid, const View& view, Vec3 own, const std::string& words,
                  double text, const std::vector<RectMm>& edges, std::vector<RectMm>& taken,
                  std::vector<RectMm>& insets) {
  const Projection projection(view);
  PageMap::Point way{projection.u(own), -projection.v(own)};
  const double seen = std::hypot(way.x, way.y);
  if (seen < 0.1) return true;
  way = {way.x / seen, way.y / seen};
  const double length = 4.2 * text, width = 1.5 * text;
  const TextStyle style{0.85 * text, true};
  const double arrow_wide = std::abs(way.x) * length + std::abs(way.y) * 1.2 * width;
  const double arrow_high = std::abs(way.y) * length + std::abs(way.x) * 1.2 * width;
  const double wide = std::max(arrow_wide, measure(canvas, words, style).width) + 1.0;
  const double high = arrow_high + 1.6 * style.size;
  std::vector<RectMm> avoided = taken;
  avoided.insert(avoided.end(), edges.begin(), edges.end());
  // Letters that touch a pipe are read as if they were part of it.
  constexpr double kRim = 0.8;
  auto box = nearest_free(grid, wide + 2.0 * kRim, high + 2.0 * kRim, middle_of(grid), avoided);
  if (box) box = RectMm{box->x + kRim, box->y + kRim, wide, high};
  if (!box) box = nearest_free(grid, wide, high, middle_of(grid), taken);
  if (!box) return false;
  draw_hollow_arrow(canvas, {box->x + wide / 2.0, box->y + arrow_high / 2.0}, way, length, width);
  draw_text_centred(canvas, box->x + wide / 2.0, box->y + high - 0.5 * style.size, words, style);
  taken.push_back(*box);
  insets.push_back(*box);
  return true;
}

/// False when no corner is free.
bool draw_axes(Canvas& canvas, const NumberGrid& grid, const View& view, double text, std::vector<RectMm>& taken,
               std::vector<RectMm>& insets) {
  const Projection projection({view.azimuth_deg, view.elevation_deg, {}});
  const TextStyle style{std::max(look::kSmallestText, 0.7 * text), false};
  const double length = 2.0 * text;
  struct Axis {
    Vec3 way;
    const char* context_word;
  };
  const std::array<Axis, 3> axes{{{{1.0, 0.0, 0.0}, signs_says::kAxisRight},
                                  {{0.0, 1.0, 0.0}, signs_says::kAxisBack},
                                  {{0.0, 0.0, 1.0}, signs_says::kAxisUp}}};
  // Where tips and words come, about the point where the axes meet.
  struct Placed {
    PageMap::Point tip;
    RectMm word;
    std::string text;
  };
  std::vector<Placed> placed;
  RectMm all{0.0, 0.0, 0.0, 0.0};
  const auto widen = [&all](double x, double y) {
    const double right = std::max(all.x + all.width, x), bottom = std::max(all.y + all.height, y);
    all.x = std::min(all.x, x);
    all.y = std::min(all.y, y);
    all.width = right - all.x;
    all.height = bottom - all.y;
  };
  for (const Axis& axis : axes) {
    const PageMap::Point tip{length * projection.u(axis.way), -length * projection.v(axis.way)};
    const double reach = std::hypot(tip.x, tip.y);
    if (reach < 0.3) continue;
    const std::string word = translated("an axis", axis.context_word);
    const TextSize size = measure(canvas, word, style);
    const double x = tip.x + (tip.x / reach) * (size.width / 2.0 + 0.6);
    const double y = tip.y + (tip.y / reach) * (size.height / 2.0 + 0.6);
    placed.push_back({tip, {x - size.width / 2.0, y - size.height / 2.0, size.width, size.height}, word});
    widen(tip.x, tip.y);
    widen(x - size.width / 2.0, y - size.height / 2.0);
    widen(x + size.width / 2.0, y + size.height / 2.0);
  }
  const RectMm page = page_of(grid);
  const double left = page.x + 0.5, right = page.x + page.width - all.width - 0.5;
  const double top = page.y + 0.5, bottom = page.y + page.height - all.height - 0.5;
  const std::array<PageMap::Point, 4> corners{{{left, bottom}, {right, bottom}, {left, top}, {right, top}}};
  const CellSums parts = parts_of(grid);
  for (const PageMap::Point& corner : corners) {
    const RectMm box{corner.x, corner.y, all.width, all.height};
    if (!is_free(grid, parts, box, taken)) continue;
    const double x = corner.x - all.x, y = corner.y - all.y;
    for (const Placed& one : placed) {
      draw_line(canvas, x, y, x + one.tip.x, y + one.tip.y, 0.25);
      draw_text(canvas, x + one.word.x, y + one.word.y + one.word.height, one.text, style);
    }
    taken.push_back(box);
    insets.push_back(box);
    return true;
  }
  return false;
}

}  // namespace

int draw_signs(Canvas& canvas, const NumberGrid& grid, const View& view, double text,
               const std::vector<PageMap::Point>& bench, std::vector<RectMm>& taken, std::vector<RectMm>& insets) {
  int missing = 0;
  const std::vector<RectMm> edges = edges_of(bench);
  const bool lies = !view.lies.as_finished();
  const auto count = [&missing](bool drawn) { missing += drawn ? 0 : 1; };
  if (lies) {
    count(draw_own_way(canvas, grid, view, {0.0, 0.0, 1.0}, say(signs_says::kUpWhenFinished), text, edges, taken,
                       insets));
  }
  count(draw_axes(canvas, grid, view, text, taken, insets));
  // Boards and sheets are named by their front edge: which one that is nobody sees of what stands on its head.
  if (lies) {
    count(draw_own_way(canvas, grid, view, {0.0, -1.0, 0.0}, say(signs_says::kFrontWhenFinished), 0.8 * text, edges,
                       taken, insets));
  }
  return missing;
}

}  // namespace dryfit::cli
