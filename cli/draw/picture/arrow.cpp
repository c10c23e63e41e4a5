#include "cli/draw/picture/arrow.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cli/draw/paint/look.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using Point = PageMap::Point;

RectMm box_round(const std::vector<Point>& line, std::size_t first, std::size_t last, double margin) {
  double x0 = 1e300;
  double y0 = 1e300;
  double x1 = -1e300;
  double y1 = -1e300;
  for (std::size_t k = first; k <= last; ++k) {
    x0 = std::min(x0, line[k].x);
    y0 = std::min(y0, line[k].y);
    x1 = std::max(x1, line[k].x);
    y1 = std::max(y1, line[k].y);
  }
  return {x0 - margin, y0 - margin, x1 - x0 + 2 * margin, y1 - y0 + 2 * margin};
}

/// One small box per stretch covers a slanting arrow better than one large one.
std::vector<RectMm> boxes_along(const std::vector<Point>& line, double margin) {
  std::vector<RectMm> out;
  for (std::size_t k = 0; k + 1 < line.size(); ++k) out.push_back(box_round(line, k, k + 1, margin));
  return out;
}

/// The visible cells of the emphasised parts: middle and bounds, page mm.
struct Seen {
  Point middle;
  RectMm box;
  bool any = false;
};

bool is_emphasised(const std::vector<bool>& emphasised, model::PartId id) {
  return id >= 0 && at(id) < emphasised.size() && emphasised[at(id)];
}

Seen seen_of(const NumberGrid& grid, const std::vector<bool>& emphasised) {
  Seen out;
  double x = 0.0;
  double y = 0.0;
  double n = 0.0;
  std::vector<Point> corners{{1e300, 1e300}, {-1e300, -1e300}};
  for (int row = 0; row < grid.height; ++row) {
    for (int column = 0; column < grid.width; ++column) {
      if (!is_emphasised(emphasised, grid.at(column, row))) continue;
      const Point p{grid.left + (column + 0.5) / grid.per_mm, grid.top + (row + 0.5) / grid.per_mm};
      x += p.x;
      y += p.y;
      n += 1.0;
      corners[0] = {std::min(corners[0].x, p.x), std::min(corners[0].y, p.y)};
      corners[1] = {std::max(corners[1].x, p.x), std::max(corners[1].y, p.y)};
    }
  }
  if (n == 0.0) return out;
  out.any = true;
  out.middle = {x / n, y / n};
  out.box = {corners[0].x, corners[0].y, corners[1].x - corners[0].x, corners[1].y - corners[0].y};
  return out;
}

/// How far, back along `way` from the middle of what is seen, a piece still covers the page.
double reach_back(const NumberGrid& grid, const std::vector<bool>& emphasised, const Seen& seen, Point way) {
  const double farthest = 0.5 * std::hypot(seen.box.width, seen.box.height);
  double reach = 0.0;
  for (double t = 0.0; t <= farthest; t += 0.5 / grid.per_mm) {
    const Point p{seen.middle.x - t * way.x, seen.middle.y - t * way.y};
    if (is_emphasised(emphasised, grid.at(grid.column(p.x), grid.row(p.y)))) reach = t;
  }
  return reach;
}

/// How many of 33 points of an arrow from `tail` to `head`, which points along `way`, lie on some part.
int points_on_parts(const NumberGrid& grid, Point tail, Point head, Point way) {
  int covered = 0;
  for (int k = 0; k <= 10; ++k) {
    for (int side = -1; side <= 1; ++side) {
      const double t = 0.1 * k;
      const Point p{tail.x + t * (head.x - tail.x) - side * way.y * 1.6,
                    tail.y + t * (head.y - tail.y) + side * way.x * 1.6};
      if (grid.at(grid.column(p.x), grid.row(p.y)) >= 0) ++covered;
    }
  }
  return covered;
}

std::optional<ArrowDrawing> place_slide(const Arrow& arrow, const PageMap& map, const NumberGrid& grid,
                                        const std::vector<bool>& emphasised, const Seen& seen) {
  const Vec3 along = arrow.along * (1.0 / norm(arrow.along));
  Point way{map.projection.u(along), -map.projection.v(along)};
  const double seen_length = std::hypot(way.x, way.y);
  if (seen_length < 0.1 || !seen.any) return std::nullopt;
  way = {way.x / seen_length, way.y / seen_length};
  const double page = std::min(grid.width, grid.height) / grid.per_mm;
  const double length = std::clamp(0.2 * page, 7.0, 20.0);
  const double right = grid.left + grid.width / grid.per_mm;
  const double bottom = grid.top + grid.height / grid.per_mm;

  // The arrow comes in from behind the piece: its head lies where the way in meets the piece, looking back from the
  // middle of what is seen of it.
  const double reach = reach_back(grid, emphasised, seen, way) + 1.5;
  const Point aim{seen.middle.x - way.x * (reach + length / 2.0), seen.middle.y - way.y * (reach + length / 2.0)};

  ArrowDrawing out;
  out.thickness = 1.0;
  out.head = 3.2;
  double best = 1e300;
  const double half_width = seen.box.width / 2.0 + length;
  const double half_height = seen.box.height / 2.0 + length;
  const double step = 1.2;
  for (double dy = -half_height; dy <= half_height; dy += step) {
    for (double dx = -half_width; dx <= half_width; dx += step) {
      const Point middle{seen.box.x + seen.box.width / 2.0 + dx, seen.box.y + seen.box.height / 2.0 + dy};
      const Point tail{middle.x - way.x * length / 2.0, middle.y - way.y * length / 2.0};
      const Point head{middle.x + way.x * length / 2.0, middle.y + way.y * length / 2.0};
      const double margin = 2.0;
      if (std::min(tail.x, head.x) < grid.left + margin || std::max(tail.x, head.x) > right - margin ||
          std::min(tail.y, head.y) < grid.top + margin || std::max(tail.y, head.y) > bottom - margin) {
        continue;
      }
      const double cost =
          1.2 * points_on_parts(grid, tail, head, way) + 0.5 * std::hypot(middle.x - aim.x, middle.y - aim.y);
      if (cost < best) {
        best = cost;
        out.line = {tail, head};
      }
    }
  }
  if (out.line.empty()) return std::nullopt;
  std::vector<Point> dense;
  for (int k = 0; k <= 6; ++k) {
    const double t = k / 6.0;
    dense.push_back(
        {out.line[0].x + t * (out.line[1].x - out.line[0].x), out.line[0].y + t * (out.line[1].y - out.line[0].y)});
  }
  out.taken = boxes_along(dense, 1.4);
  return out;
}

std::optional<ArrowDrawing> place_turn(const Arrow& arrow, const PageMap& map, const NumberGrid& grid,
                                       const std::vector<bool>& emphasised, double radius,
                                       const std::function<bool(Point)>& inside) {
  const Vec3 along = arrow.along * (1.0 / norm(arrow.along));
  const Basis basis = basis_around(along);
  const double page_radius = std::max(2.8, radius * map.scale);
  const double ring = page_radius / map.scale;
  // The front-most point of the ring lies toward the viewer; the arc shows a good half of the turn, that in front.
  const Vec3 toward = map.projection.toward;
  const double front = std::atan2(dot(toward, basis.second), dot(toward, basis.first));
  constexpr double kHalfArc = 2.1;
  constexpr int kPoints = 36;
  const auto arc_round = [&](Vec3 centre) {
    std::vector<Point> line;
    for (int k = 0; k <= kPoints; ++k) {
      const double angle = front - kHalfArc + 2.0 * kHalfArc * k / kPoints;
      line.push_back(map(centre + ring * (std::cos(angle) * basis.first + std::sin(angle) * basis.second)));
    }
    return line;
  };
  // Slide the ring along the axis to where most of the axis round it shows the new piece.
  constexpr double kStep = 6.0;
  ArrowDrawing out;
  double best = -1e300;
  for (int k = -80; k <= 80; ++k) {
    const Vec3 candidate = arrow.at + (k * kStep) * along;
    int hits = 0;
    for (int j = -3; j <= 3; ++j) {
      const Point p = map(candidate + (0.4 * j * radius) * along);
      if (is_emphasised(emphasised, grid.at(grid.column(p.x), grid.row(p.y)))) ++hits;
    }
    const double value = hits - 0.01 * std::abs(k);
    if (value <= best) continue;
    std::vector<Point> line = arc_round(candidate);
    if (inside && !std::all_of(line.begin(), line.end(), inside)) continue;
    best = value;
    out.line = std::move(line);
  }
  if (out.line.empty()) return std::nullopt;
  out.thickness = std::clamp(0.14 * page_radius, 0.45, 0.7);
  out.head = std::clamp(0.45 * page_radius, 1.8, 2.6);
  out.taken = boxes_along(out.line, 0.9);
  return out;
}

}  // namespace

std::optional<ArrowDrawing> place_arrow(const Arrow& arrow, const PageMap& map, const NumberGrid& grid,
                                        const std::vector<bool>& emphasised, double radius,
                                        const std::function<bool(PageMap::Point)>& inside) {
  if (norm(arrow.along) < 1e-9) return std::nullopt;
  if (arrow.kind == Arrow::Kind::turn) return place_turn(arrow, map, grid, emphasised, radius, inside);
  return place_slide(arrow, map, grid, emphasised, seen_of(grid, emphasised));
}

void draw_arrow(Canvas& canvas, const ArrowDrawing& drawing) {
  const std::vector<Point>& line = drawing.line;
  if (line.size() < 2) return;
  const Point tip = line.back();
  // The head points along the last stretch that is long enough to have a direction.
  std::size_t from = line.size() - 1;
  while (from > 0 && std::hypot(tip.x - line[from].x, tip.y - line[from].y) < 0.8 * drawing.head) --from;
  double dx = tip.x - line[from].x;
  double dy = tip.y - line[from].y;
  const double length = std::hypot(dx, dy);
  if (length < 1e-9) return;
  dx /= length;
  dy /= length;
  const Point neck{tip.x - dx * drawing.head * 0.8, tip.y - dy * drawing.head * 0.8};
  const auto shaft = [&] {
    canvas.move_to(line[0].x, line[0].y);
    for (std::size_t k = 1; k <= from; ++k) canvas.line_to(line[k].x, line[k].y);
    canvas.line_to(neck.x, neck.y);
  };
  const auto head = [&] {
    const double half = 0.42 * drawing.head;
    canvas.move_to(tip.x, tip.y);
    canvas.line_to(tip.x - dx * drawing.head - dy * half, tip.y - dy * drawing.head + dx * half);
    canvas.line_to(neck.x, neck.y);
    canvas.line_to(tip.x - dx * drawing.head + dy * half, tip.y - dy * drawing.head - dx * half);
    canvas.close();
  };
  canvas.save();
  canvas.round_ends(false);
  canvas.round_corners();
  canvas.use(look::kPaper);
  canvas.line_width(drawing.thickness + 0.5);
  shaft();
  canvas.stroke();
  canvas.line_width(0.5);
  head();
  canvas.stroke();
  canvas.use(look::kInk);
  canvas.line_width(drawing.thickness);
  shaft();
  canvas.stroke();
  head();
  canvas.fill();
  canvas.restore();
}

}  // namespace dryfit::cli
