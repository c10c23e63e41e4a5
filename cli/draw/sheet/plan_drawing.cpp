#include "cli/draw/sheet/plan_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "cli/draw/paint/pen.hpp"
#include "cli/draw/sheet/face_mark.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

constexpr look::Tone kDimensionTone{0.45, 0.45, 0.45};

/// Values along an edge: wanted places and where their texts go, at least `apart` from one another.
struct Stop {
  double value = 0.0;  ///< mm from the edge
  double at = 0.0;     ///< page place of the hole
  double text = 0.0;   ///< page place of the text
};

/// Pushes texts apart, in order, keeping each as near its place as the others let it.
void spread(std::vector<Stop>& stops, double apart) {
  for (std::size_t pass = 0; pass < 50; ++pass) {
    bool moved = false;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
      const double gap = stops[i + 1].text - stops[i].text;
      if (gap >= apart - 1e-6) continue;
      stops[i].text -= (apart - gap) / 2.0;
      stops[i + 1].text += (apart - gap) / 2.0;
      moved = true;
    }
    if (!moved) return;
  }
}

class PlanDrawing {
 public:
  PlanDrawing(Canvas& canvas, const BoardPlan& plan, model::Units units)
      : canvas_(canvas), plan_(plan), units_(units) {}

  double draw(double top, double bottom, double margin, double paper_width) {
    constexpr double kLeft = 34.0;   // for the values along the left edge
    constexpr double kBelow = 30.0;  // for those along the lower edge
    constexpr double kRight = 14.0;
    constexpr double kAbove = 16.0;
    const double room_x = paper_width - 2 * margin - kLeft - kRight;
    const double room_y = bottom - top - kAbove - kBelow;
    scale_ = std::min({room_x / plan_.width, room_y / plan_.height, 1.0});
    x0_ = margin + kLeft + (room_x - scale_ * plan_.width) / 2.0;
    y0_ = top + kAbove + (room_y + scale_ * plan_.height) / 2.0;
    canvas_.box(px(0), py(plan_.height), scale_ * plan_.width, scale_ * plan_.height);
    canvas_.use(look::kBoard);
    canvas_.fill();
    extension_lines();
    for (const PlanHole& hole : plan_.holes) draw_hole(hole);
    draw_box(canvas_, px(0), py(plan_.height), scale_ * plan_.width, scale_ * plan_.height, 0.4);
    for (const PlanHole& hole : plan_.holes) open_edge(hole);
    spacings();
    edges_and_overall();
    face_mark();
    corner();
    return scale_;
  }

 private:
  [[nodiscard]] double px(double x) const { return x0_ + scale_ * x; }
  [[nodiscard]] double py(double y) const { return y0_ - scale_ * y; }

  void draw_hole(const PlanHole& hole) {
    const double r = scale_ * hole.diameter / 2.0;
    canvas_.begin();
    if (hole.notch) {
      const double along = std::atan2(-hole.open_y, hole.open_x);
      canvas_.arc(px(hole.x), py(hole.y), r, along + std::numbers::pi / 2.0, along + 1.5 * std::numbers::pi);
      const auto [ex, ey] = mouth(hole);
      const double sx = r * hole.open_y;
      const double sy = r * hole.open_x;
      canvas_.line_to(px(ex) - sx, py(ey) - sy);
      canvas_.line_to(px(ex) + sx, py(ey) + sy);
    } else {
      canvas_.arc(px(hole.x), py(hole.y), r, 0.0, 2.0 * std::numbers::pi);
    }
    canvas_.close();
    fill_outlined(canvas_, look::kPaper, look::kInk, 0.35);
    draw_cross(canvas_, px(hole.x), py(hole.y), r + 1.8, 0.18);
    const TextStyle style{3.2, true};
    const double wide = measure(canvas_, hole.label, style).width;
    // Beside a hole on the slant, beside a slot clear of its saw lines.
    const double off = hole.notch ? r + 1.2 : 0.71 * r + 0.9;
    const bool fits = px(hole.x) + off + wide < px(plan_.width) - 0.5;
    draw_text(canvas_, fits ? px(hole.x) + off : px(hole.x) - off - wide, py(hole.y) - 0.71 * r - 0.9, hole.label,
              style);
  }

  /// Where a slot's middle line meets the edge.
  [[nodiscard]] std::pair<double, double> mouth(const PlanHole& hole) const {
    return {hole.open_x == 0  ? hole.x
            : hole.open_x > 0 ? plan_.width
                              : 0.0,
            hole.open_y == 0  ? hole.y
            : hole.open_y > 0 ? plan_.height
                              : 0.0};
  }

  void open_edge(const PlanHole& hole) {
    if (!hole.notch) return;
    const auto [ex, ey] = mouth(hole);
    const double r = scale_ * hole.diameter / 2.0 - 0.2;
    draw_line(canvas_, px(ex) - r * std::abs(hole.open_y), py(ey) - r * std::abs(hole.open_x),
              px(ex) + r * std::abs(hole.open_y), py(ey) + r * std::abs(hole.open_x), 0.7, look::kPaper);
  }

  /// One value for all holes on one line.
  [[nodiscard]] std::vector<Stop> stops(bool along_x) const {
    std::vector<Stop> out;
    for (const PlanHole& hole : plan_.holes) {
      const double value = along_x ? hole.x : hole.y;
      const auto same =
          std::find_if(out.begin(), out.end(), [&](const Stop& s) { return std::abs(s.value - value) < 0.05; });
      if (same == out.end()) out.push_back({value, along_x ? px(value) : py(value), along_x ? px(value) : py(value)});
    }
    std::sort(out.begin(), out.end(), [](const Stop& a, const Stop& b) { return a.text < b.text; });
    return out;
  }

  void extension_lines() {
    const TextStyle style{3.2, false};
    std::vector<Stop> across = stops(true);
    spread(across, 4.6);
    for (const Stop& stop : across) {
      double highest = 0.0;
      for (const PlanHole& hole : plan_.holes) {
        if (std::abs(hole.x - stop.value) < 0.05) highest = std::max(highest, hole.y);
      }
      draw_line(canvas_, stop.at, py(highest), stop.at, py(0) + 3.0, 0.13, kDimensionTone);
      draw_line(canvas_, stop.at, py(0) + 3.0, stop.text, py(0) + 7.0, 0.13, kDimensionTone);
      const std::string text = length_in(stop.value, units_);
      const double wide = measure(canvas_, text, style).width;
      longest_below_ = std::max(longest_below_, wide);
      draw_text_upright(canvas_, stop.text + 1.1, py(0) + 8.2 + wide / 2.0, text, style);
    }
    std::vector<Stop> up = stops(false);
    spread(up, 4.6);
    for (const Stop& stop : up) {
      double farthest = 0.0;
      for (const PlanHole& hole : plan_.holes) {
        if (std::abs(hole.y - stop.value) < 0.05) farthest = std::max(farthest, hole.x);
      }
      draw_line(canvas_, px(farthest), stop.at, px(0) - 3.0, stop.at, 0.13, kDimensionTone);
      draw_line(canvas_, px(0) - 3.0, stop.at, px(0) - 7.0, stop.text, 0.13, kDimensionTone);
      const std::string text = length_in(stop.value, units_);
      const double wide = measure(canvas_, text, style).width;
      longest_left_ = std::max(longest_left_, wide);
      draw_text(canvas_, px(0) - 8.0 - wide, stop.text + 1.1, text, style);
    }
  }

  /// From hole to hole along each row of them, on the line that goes through their centres.
  void spacings() {
    const TextStyle style{3.2, true};
    for (const PlanHole& hole : plan_.holes) {
      const PlanHole* next = nullptr;
      for (const PlanHole& other : plan_.holes) {
        if (std::abs(other.y - hole.y) > 0.05 || other.x < hole.x + 0.05) continue;
        if (next == nullptr || other.x < next->x) next = &other;
      }
      if (next == nullptr) continue;
      const double clear = scale_ * (hole.diameter + next->diameter) / 2.0 + 12.0;
      const std::string text = length_in(next->x - hole.x, units_);
      const TextSize size = measure(canvas_, text, style);
      if (scale_ * (next->x - hole.x) < size.width + clear) continue;
      const double x = px((hole.x + next->x) / 2.0), y = py(hole.y);
      draw_line(canvas_, px(hole.x), y, px(next->x), y, 0.13, kDimensionTone);
      draw_arrow_head(canvas_, px(hole.x), y, -1, 0);
      draw_arrow_head(canvas_, px(next->x), y, 1, 0);
      draw_text_centred(canvas_, x, y - 1.0, text, style);
      spacings_.push_back({x - size.width / 2.0 - 1.0, y - 5.0, size.width + 2.0, 6.0});
    }
  }

  void edges_and_overall() {
    const TextStyle name{3.0, false};
    const TextStyle value{3.4, true};
    const double cx = px(plan_.width / 2.0);
    const double cy = py(plan_.height / 2.0);
    // Overall sizes above and at the right, each with the name of its edge.
    const double above = py(plan_.height) - 5.0;
    draw_line(canvas_, px(0), above, px(plan_.width), above, 0.18);
    draw_arrow_head(canvas_, px(0), above, -1, 0);
    draw_arrow_head(canvas_, px(plan_.width), above, 1, 0);
    draw_text_centred(canvas_, cx, above - 1.2, length_in(plan_.width, units_), value);
    draw_text_centred(canvas_, cx, above - 6.0, edge(side_named(plan_.upper)), name, kDimensionTone);
    const double beside = px(plan_.width) + 5.0;
    draw_line(canvas_, beside, py(0), beside, py(plan_.height), 0.18);
    draw_arrow_head(canvas_, beside, py(0), 0, 1);
    draw_arrow_head(canvas_, beside, py(plan_.height), 0, -1);
    draw_text_upright(canvas_, beside + 3.6, cy, length_in(plan_.height, units_), value);
    draw_text_upright(canvas_, beside + 7.8, cy, edge(side_named(plan_.right)), name, kDimensionTone);
    draw_text_centred(canvas_, cx, py(0) + 12.5 + longest_below_, edge(side_named(plan_.lower)), name, kDimensionTone);
    draw_text_upright(canvas_, px(0) - 10.5 - longest_left_, cy, edge(side_named(plan_.left)), name, kDimensionTone);
  }

  /// The corner that everything is measured from.
  void corner() {
    canvas_.move_to(px(0) - 0.4, py(0) + 0.4);
    canvas_.line_to(px(0) - 4.0, py(0) + 0.4);
    canvas_.line_to(px(0) - 0.4, py(0) + 4.0);
    canvas_.close();
    canvas_.use(look::kInk);
    canvas_.fill();
  }

  /// Where no hole and no line is; beside the upper edge when the board has no room.
  void face_mark() {
    std::vector<RectMm> busy = spacings_;
    for (const PlanHole& hole : plan_.holes) {
      const double r = scale_ * hole.diameter / 2.0 + 2.0;
      const auto [ex, ey] = hole.notch ? mouth(hole) : std::pair{hole.x, hole.y};
      const double xa = std::min(px(hole.x), px(ex)) - r;
      const double xb = std::max(px(hole.x), px(ex)) + r + 8.0;
      const double ya = std::min(py(hole.y), py(ey)) - r - 4.0;
      const double yb = std::max(py(hole.y), py(ey)) + r;
      busy.push_back({xa, ya, xb - xa, yb - ya});
      busy.push_back({px(hole.x) - 0.5, py(hole.y), 1.0, py(0) - py(hole.y)});
      busy.push_back({px(0), py(hole.y) - 0.5, px(hole.x) - px(0), 1.0});
    }
    const RectMm board{px(0) + 1.0, py(plan_.height) + 1.0, scale_ * plan_.width - 2.0, scale_ * plan_.height - 2.0};
    if (draw_face_mark(canvas_, plan_, board, busy, look::kBoard)) return;
    const std::string grain = grain_words(plan_);
    draw_text(canvas_, px(0), py(plan_.height) - 11.0, face_words(plan_) + (grain.empty() ? "" : ", " + grain),
              {3.4, true});
  }

  Canvas& canvas_;
  const BoardPlan& plan_;
  model::Units units_;
  double scale_ = 0.0;
  double x0_ = 0.0;
  double y0_ = 0.0;
  double longest_below_ = 0.0;  // values along the lower and the left edge
  double longest_left_ = 0.0;
  std::vector<RectMm> spacings_;  ///< page places of the texts between holes
};

}  // namespace

std::string length_in(double mm, model::Units units) {
  return units == model::Units::in ? inch_text(mm) : metric_text(mm, units);
}

double draw_plan(Canvas& canvas, const BoardPlan& plan, model::Units units, const PlanPlace& place) {
  return PlanDrawing(canvas, plan, units).draw(place.top, place.bottom, place.margin, place.paper_width);
}

}  // namespace dryfit::cli
