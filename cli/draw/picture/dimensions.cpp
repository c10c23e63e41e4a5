#include "cli/draw/picture/dimensions.hpp"

#include <algorithm>
#include <cmath>

#include "cli/draw/paint/lettering.hpp"
#include "cli/draw/paint/pen.hpp"

namespace dryfit::cli {
namespace {

using model::Vec3;
using Point = PageMap::Point;

constexpr look::Tone kDimensionInk{0.35, 0.37, 0.40};

void draw_head(Canvas& canvas, Point tip, Point way, double size) {
  canvas.use(kDimensionInk);
  canvas.move_to(tip.x, tip.y);
  canvas.line_to(tip.x - size * way.x - 0.3 * size * way.y, tip.y - size * way.y + 0.3 * size * way.x);
  canvas.line_to(tip.x - size * way.x + 0.3 * size * way.y, tip.y - size * way.y - 0.3 * size * way.x);
  canvas.close();
  canvas.fill();
}

}  // namespace

std::vector<Dimension> dimensions_over_all(Vec3 lo, Vec3 hi, const std::vector<std::string>& texts) {
  return {{{lo.x, lo.y, lo.z}, {hi.x, lo.y, lo.z}, {0.0, 0.0, -1.0}, texts[0]},
          {{hi.x, lo.y, lo.z}, {hi.x, hi.y, lo.z}, {0.0, 0.0, -1.0}, texts[1]},
          {{lo.x, lo.y, lo.z}, {lo.x, lo.y, hi.z}, {-1.0, 0.0, 0.0}, texts[2]}};
}

double dimension_room(double text) { return 3.4 * text; }

void draw_dimensions(Canvas& canvas, const PageMap& map, const std::vector<Dimension>& dimensions, double text,
                     std::vector<RectMm>& taken) {
  for (const Dimension& one : dimensions) {
    Point a = map(one.from), b = map(one.to);
    const Point out = map(one.from + one.away);
    const double reach = std::hypot(out.x - a.x, out.y - a.y);
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    if (reach < 1e-9 || length < 4.0 * text) continue;
    const Point away{(out.x - a.x) / reach, (out.y - a.y) / reach};
    const double off = 2.2 * text;
    const auto beside = [&](Point p, double by) { return Point{p.x + by * away.x, p.y + by * away.y}; };
    draw_line(canvas, a.x, a.y, beside(a, off + 1.0).x, beside(a, off + 1.0).y, 0.1, kDimensionInk);
    draw_line(canvas, b.x, b.y, beside(b, off + 1.0).x, beside(b, off + 1.0).y, 0.1, kDimensionInk);
    a = beside(a, off);
    b = beside(b, off);
    draw_line(canvas, a.x, a.y, b.x, b.y, 0.15, kDimensionInk);
    const Point way{(b.x - a.x) / length, (b.y - a.y) / length};
    draw_head(canvas, b, way, 0.8 * text);
    draw_head(canvas, a, {-way.x, -way.y}, 0.8 * text);
    // The text stands level in a gap of the line.
    const TextStyle style{text, true};
    const TextSize size = measure(canvas, one.text, style);
    const RectMm box{(a.x + b.x - size.width) / 2.0 - 0.4 * text, (a.y + b.y) / 2.0 - 0.7 * text,
                     size.width + 0.8 * text, 1.4 * text};
    canvas.use(look::kPaper);
    canvas.box(box.x, box.y, box.width, box.height);
    canvas.fill();
    draw_text(canvas, box.x + 0.4 * text, box.y + 1.06 * text, one.text, style);
    taken.push_back(box);
    // A slanting line is covered piece by piece, so that names find room beside it.
    constexpr int kPieces = 12;
    for (int k = 0; k < kPieces; ++k) {
      const double t = static_cast<double>(k) / kPieces, u = static_cast<double>(k + 1) / kPieces;
      const double x0 = a.x + t * (b.x - a.x), x1 = a.x + u * (b.x - a.x);
      const double y0 = a.y + t * (b.y - a.y), y1 = a.y + u * (b.y - a.y);
      taken.push_back(
          {std::min(x0, x1) - 0.3, std::min(y0, y1) - 0.3, std::abs(x1 - x0) + 0.6, std::abs(y1 - y0) + 0.6});
    }
  }
}

}  // namespace dryfit::cli
