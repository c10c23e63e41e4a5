#include "cli/draw/picture/lens.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "cli/draw/paint/pen.hpp"
#include "cli/draw/picture/labels.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using Point = PageMap::Point;

constexpr double kSmall = 11.0;  // mm across: larger pieces need no lens
constexpr double kLeastRadius = 7.0;
constexpr double kMostZoom = 8.0;
constexpr double kLeastZoom = 1.9;  // less is no help

/// Steps from each cell to the nearest one that shows a part or lies outside (two sweeps, the larger of dx and dy).
std::vector<int> free_reach(const NumberGrid& grid) {
  // With a rim of zeros round it, so that no cell asks whether its neighbours are on the grid.
  const auto w = dryfit::at(grid.width), h = dryfit::at(grid.height), wide = w + 2;
  std::vector<int> rimmed(wide * (h + 2), 0);
  const auto cell = [wide](std::size_t x, std::size_t y) { return (y + 1) * wide + x + 1; };
  for (std::size_t y = 0; y < h; ++y) {
    for (std::size_t x = 0; x < w; ++x) {
      if (grid.cells[y * w + x] >= 0) continue;
      const int* r = &rimmed[cell(x, y)];
      rimmed[cell(x, y)] =
          1 + std::min(std::min(r[-1], r[-static_cast<std::ptrdiff_t>(wide)]),
                       std::min(r[-static_cast<std::ptrdiff_t>(wide) - 1], r[1 - static_cast<std::ptrdiff_t>(wide)]));
    }
  }
  for (std::size_t y = h; y-- > 0;) {
    for (std::size_t x = w; x-- > 0;) {
      int* r = &rimmed[cell(x, y)];
      *r = std::min(*r, 1 + std::min(std::min(r[1], r[wide]), std::min(r[wide + 1], r[wide - 1])));
    }
  }
  std::vector<int> reach(grid.cells.size());
  for (std::size_t y = 0; y < h; ++y) {
    for (std::size_t x = 0; x < w; ++x) reach[y * w + x] = rimmed[cell(x, y)];
  }
  return reach;
}

/// Cells of the grid, both ends included.
struct Cells {
  int x0 = 1 << 20;
  int x1 = -1;
  int y0 = 1 << 20;
  int y1 = -1;
  int count = 0;
  void add(int x, int y) {
    x0 = std::min(x0, x);
    x1 = std::max(x1, x);
    y0 = std::min(y0, y);
    y1 = std::max(y1, y);
    ++count;
  }
  [[nodiscard]] double across(const NumberGrid& grid) const { return std::max(x1 - x0 + 1, y1 - y0 + 1) / grid.per_mm; }
};

/// All emphasised cells.
Cells all_of(const NumberGrid& grid, const std::vector<bool>& emphasised) {
  Cells out;
  for (int y = 0; y < grid.height; ++y) {
    for (int x = 0; x < grid.width; ++x) {
      const model::PartId id = grid.at(x, y);
      if (id >= 0 && emphasised[dryfit::at(id)]) out.add(x, y);
    }
  }
  return out;
}

/// The largest patch of emphasised cells that hang together: of several straps the one that is seen best.
Cells largest_of(const NumberGrid& grid, const std::vector<bool>& emphasised) {
  std::vector<bool> done(grid.cells.size(), false);
  const auto wanted = [&](int x, int y) {
    const model::PartId id = grid.at(x, y);
    if (id < 0 || !emphasised[dryfit::at(id)]) return false;
    const std::size_t i = dryfit::at(y) * dryfit::at(grid.width) + dryfit::at(x);
    if (done[i]) return false;
    done[i] = true;
    return true;
  };
  Cells best;
  for (int y = 0; y < grid.height; ++y) {
    for (int x = 0; x < grid.width; ++x) {
      if (!wanted(x, y)) continue;
      Cells patch;
      std::vector<std::pair<int, int>> open{{x, y}};
      while (!open.empty()) {
        const auto [cx, cy] = open.back();
        open.pop_back();
        patch.add(cx, cy);
        for (const auto& [dx, dy] : {std::pair{1, 0}, std::pair{-1, 0}, std::pair{0, 1}, std::pair{0, -1}}) {
          if (wanted(cx + dx, cy + dy)) open.emplace_back(cx + dx, cy + dy);
        }
      }
      if (patch.count > best.count) best = patch;
    }
  }
  return best;
}

/// Millimetres of other parts that a line between two points runs over.
double crossed(const NumberGrid& grid, const std::vector<bool>& emphasised, Point from, Point to) {
  const double run = std::hypot(to.x - from.x, to.y - from.y);
  const int steps = static_cast<int>(run * grid.per_mm / 2.0);
  int over = 0;
  for (int k = 0; k <= steps; ++k) {
    const double t = steps == 0 ? 0.0 : static_cast<double>(k) / steps;
    const model::PartId id = grid.at(grid.column(from.x + t * (to.x - from.x)), grid.row(from.y + t * (to.y - from.y)));
    if (id >= 0 && !emphasised[dryfit::at(id)]) ++over;
  }
  return 2.0 * over / grid.per_mm;
}

/// Where a lens may stand.
struct Spot {
  double value = 0.0;    ///< without what its line costs
  std::size_t cell = 0;  ///< of the grid: of two that are worth the same the first is taken
  Point centre;
  double radius = 0.0, away = 0.0, ringed = 0.0;
  bool operator<(const Spot& o) const { return value != o.value ? value < o.value : cell > o.cell; }
};

}  // namespace

std::optional<Lens> place_lens(const PageMap& map, const NumberGrid& grid, const std::vector<bool>& emphasised,
                               double ring, const std::vector<RectMm>& taken) {
  Cells subject = all_of(grid, emphasised);
  if (subject.count == 0) return std::nullopt;
  // Several small things far apart, none of which turns: one of them is shown for all.
  if (subject.across(grid) > kSmall && ring <= 0.0) subject = largest_of(grid, emphasised);
  const double across = subject.across(grid);
  if (across > kSmall) return std::nullopt;

  Lens lens{{},
            0.0,
            {grid.left + 0.5 * (subject.x0 + subject.x1 + 1) / grid.per_mm,
             grid.top + 0.5 * (subject.y0 + subject.y1 + 1) / grid.per_mm},
            1.0,
            0.0,
            map};
  // The piece, the arrow round it and some of what is beside it.
  const double half = ring > 0.0 ? std::max(0.55 * across, std::hypot(ring, 0.4 * across)) : 0.5 * across;
  const auto zoom_of = [half](double radius) { return std::min(kMostZoom, 0.95 * (radius - 1.0) / (half + 0.4)); };
  const std::vector<int> reach = free_reach(grid);
  // What comes out smaller, as on a tall frame, gets a larger one.
  constexpr double kUsual = 6.0, kLargest = 1.4, kCrossing = 20.0, kApart = 0.4;
  const double filled = 1.0 + kMostZoom * (half + 0.4) / 0.95;  // a larger glass would show white round the piece
  const double wanted = std::min(std::max(filled, kLeastRadius), 0.19 * std::clamp(kUsual / across, 1.0, kLargest) *
                                                                     std::min(grid.width, grid.height) / grid.per_mm);
  std::vector<Spot> spots;
  for (int y = 0; y < grid.height; y += 2) {
    for (int x = 0; x < grid.width; x += 2) {
      const std::size_t i = dryfit::at(y) * dryfit::at(grid.width) + dryfit::at(x);
      const double radius = std::min(wanted, reach[i] / grid.per_mm - 0.8);
      if (radius < kLeastRadius) continue;
      const Point centre{grid.left + (x + 0.5) / grid.per_mm, grid.top + (y + 0.5) / grid.per_mm};
      const double away = std::hypot(centre.x - lens.subject.x, centre.y - lens.subject.y);
      const double ringed = radius / zoom_of(radius);
      if (away < radius + ringed + kApart) continue;
      spots.push_back({4.0 * radius - away, i, centre, radius, away, ringed});
    }
  }
  // A line costs, so no spot is worth more than it is without one: the best of them come first, and few are looked at.
  std::make_heap(spots.begin(), spots.end());
  double best = -1e300;
  std::size_t best_cell = 0;
  while (!spots.empty() && spots.front().value >= best) {
    std::pop_heap(spots.begin(), spots.end());
    const Spot spot = spots.back();
    spots.pop_back();
    const Point centre = spot.centre;
    const double radius = spot.radius, away = spot.away, ringed = spot.ringed;
    const RectMm box{centre.x - radius, centre.y - radius, 2.0 * radius, 2.0 * radius};
    if (std::any_of(taken.begin(), taken.end(), [&](const RectMm& other) { return overlap(box, other); })) continue;
    const Point way{(centre.x - lens.subject.x) / away, (centre.y - lens.subject.y) / away};
    const double over = crossed(grid, emphasised, {lens.subject.x + ringed * way.x, lens.subject.y + ringed * way.y},
                                {centre.x - radius * way.x, centre.y - radius * way.y});
    constexpr double kNoLine = 8.0;  // where it is close it has none
    const bool close = away - radius - ringed <= Lens::kClose;
    const double value = spot.value - (over <= Lens::kOver ? 0.0 : close ? kNoLine : kCrossing * over);
    if (value < best || (value == best && spot.cell > best_cell)) continue;
    best = value;
    best_cell = spot.cell;
    lens.centre = centre;
    lens.radius = radius;
    lens.over = over;
  }
  if (lens.radius <= 0.0) return std::nullopt;
  lens.zoom = zoom_of(lens.radius);
  if (lens.zoom < kLeastZoom) return std::nullopt;
  lens.map.scale = map.scale * lens.zoom;
  lens.map.left = lens.centre.x + (map.left - lens.subject.x) * lens.zoom;
  lens.map.top = lens.centre.y + (map.top - lens.subject.y) * lens.zoom;
  return lens;
}

void begin_lens(Canvas& canvas, const Lens& lens) {
  const double ring = lens.radius / lens.zoom;
  const double away = std::hypot(lens.centre.x - lens.subject.x, lens.centre.y - lens.subject.y);
  if (lens.has_line()) {
    const double dx = (lens.centre.x - lens.subject.x) / away;
    const double dy = (lens.centre.y - lens.subject.y) / away;
    draw_line(canvas, lens.subject.x + ring * dx, lens.subject.y + ring * dy, lens.centre.x - lens.radius * dx,
              lens.centre.y - lens.radius * dy, 0.18);
  }
  draw_circle(canvas, lens.subject.x, lens.subject.y, ring, 0.18);
  canvas.save();
  canvas.begin();
  canvas.arc(lens.centre.x, lens.centre.y, lens.radius, 0.0, 2.0 * std::numbers::pi);
  canvas.use(look::kPaper);
  canvas.fill_and_keep();
  canvas.clip();
}

void end_lens(Canvas& canvas, const Lens& lens) {
  canvas.restore();
  draw_circle(canvas, lens.centre.x, lens.centre.y, lens.radius, 0.3);
}

}  // namespace dryfit::cli
