#include "cli/draw/board_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "cli/draw/labels.hpp"
#include "cli/draw/pen.hpp"
#include "cli/lengths.hpp"
#include "cli/say.hpp"
#include "cli/trade_words.hpp"
#include "cli/words.hpp"

namespace dryfit::cli {
namespace {

constexpr double kMargin = 12.0;
constexpr double kRow = 6.0;  // of the table
constexpr look::Tone kFaint{0.45, 0.45, 0.45};
constexpr look::Tone kRule{0.75, 0.75, 0.75};

std::string both_units(double mm, model::Units units) {
  if (units == model::Units::in) return fmt::format("{} ({})", inch_text(mm), metric_text(mm, units));
  return metric_text(mm, units);
}

std::string length_in(double mm, model::Units units) {
  return units == model::Units::in ? inch_text(mm) : metric_text(mm, units);
}

/// A difference too small for shop fractions.
std::string small_in_both(double mm, model::Units units) {
  if (units != model::Units::in) return fine_metric_text(mm, false);
  return fmt::format("{} ({})", fine_inch_text(mm, false), fine_metric_text(mm, false));
}

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

class Sheet {
 public:
  Sheet(cairo_t* cairo, const BoardPlan& plan, model::Units units, double paper_width, double paper_height)
      : cairo_(cairo), plan_(plan), units_(units), width_(paper_width), height_(paper_height) {}

  /// Draws the first page; returns the index of the first hole that did not fit into its table.
  std::size_t draw(const std::string& frame_name) {
    head(frame_name);
    const double notes_height = notes(false);
    const std::size_t rows = std::min<std::size_t>(plan_.holes.size(), 12);
    const double table_height = kRow * static_cast<double>(rows + 1) + 4.0;
    const double drawing_top = kMargin + 18.0;
    const double drawing_bottom = height_ - kMargin - notes_height - table_height - 4.0;
    plan_drawing(drawing_top, drawing_bottom);
    table(drawing_bottom + 4.0, 0, rows);
    notes(true);
    return rows;
  }

  /// A page with more rows of the table.
  std::size_t more_rows(const std::string& frame_name, std::size_t from) {
    head(frame_name);
    const auto fit = static_cast<std::size_t>((height_ - 2 * kMargin - 30.0) / kRow);
    const std::size_t to = std::min(plan_.holes.size(), from + fit);
    table(kMargin + 18.0, from, to);
    return to;
  }

 private:
  void head(const std::string& frame_name) {
    draw_text(cairo_, kMargin, kMargin + 5.5, say("Board {}", plan_.label), {7.0, true});
    std::string size = say("{0} x {1}, {2} thick", length_in(plan_.width, units_), length_in(plan_.height, units_),
                           length_in(plan_.thickness, units_));
    if (!plan_.stock.empty()) size += ", " + stock_word(plan_.stock);
    draw_text(cairo_, kMargin, kMargin + 12.0, size, {4.0, false});
    const TextStyle style{3.4, false};
    draw_text(cairo_, width_ - kMargin - measure(cairo_, frame_name, style).width, kMargin + 5.5, frame_name, style);
    draw_line(cairo_, kMargin, kMargin + 15.0, width_ - kMargin, kMargin + 15.0, 0.3);
  }

  void plan_drawing(double top, double bottom) {
    constexpr double kLeft = 34.0;   // for the values along the left edge
    constexpr double kBelow = 30.0;  // for those along the lower edge
    constexpr double kRight = 14.0;
    constexpr double kAbove = 16.0;
    const double room_x = width_ - 2 * kMargin - kLeft - kRight;
    const double room_y = bottom - top - kAbove - kBelow;
    scale_ = std::min({room_x / plan_.width, room_y / plan_.height, 1.0});
    x0_ = kMargin + kLeft + (room_x - scale_ * plan_.width) / 2.0;
    y0_ = top + kAbove + (room_y + scale_ * plan_.height) / 2.0;
    cairo_rectangle(cairo_, px(0), py(plan_.height), scale_ * plan_.width, scale_ * plan_.height);
    cairo_set_source_rgb(cairo_, look::kBoard.red, look::kBoard.green, look::kBoard.blue);
    cairo_fill(cairo_);
    extension_lines();
    for (const PlanHole& hole : plan_.holes) draw_hole(hole);
    draw_box(cairo_, px(0), py(plan_.height), scale_ * plan_.width, scale_ * plan_.height, 0.4);
    for (const PlanHole& hole : plan_.holes) open_edge(hole);
    edges_and_overall();
    face_mark();
    corner();
  }

  [[nodiscard]] double px(double x) const { return x0_ + scale_ * x; }
  [[nodiscard]] double py(double y) const { return y0_ - scale_ * y; }

  void draw_hole(const PlanHole& hole) {
    const double r = scale_ * hole.diameter / 2.0;
    cairo_new_sub_path(cairo_);
    if (hole.notch) {
      const double along = std::atan2(-hole.open_y, hole.open_x);
      cairo_arc(cairo_, px(hole.x), py(hole.y), r, along + std::numbers::pi / 2.0, along + 1.5 * std::numbers::pi);
      const auto [ex, ey] = mouth(hole);
      const double sx = r * hole.open_y;
      const double sy = r * hole.open_x;
      cairo_line_to(cairo_, px(ex) - sx, py(ey) - sy);
      cairo_line_to(cairo_, px(ex) + sx, py(ey) + sy);
    } else {
      cairo_arc(cairo_, px(hole.x), py(hole.y), r, 0.0, 2.0 * std::numbers::pi);
    }
    cairo_close_path(cairo_);
    cairo_set_source_rgb(cairo_, 1, 1, 1);
    cairo_fill_preserve(cairo_);
    cairo_set_source_rgb(cairo_, look::kInk.red, look::kInk.green, look::kInk.blue);
    cairo_set_line_width(cairo_, 0.35);
    cairo_stroke(cairo_);
    draw_cross(cairo_, px(hole.x), py(hole.y), r + 1.8, 0.18);
    const TextStyle style{3.2, true};
    const double wide = measure(cairo_, hole.label, style).width;
    // Beside a hole on the slant, beside a slot clear of its saw lines.
    const double off = hole.notch ? r + 1.2 : 0.71 * r + 0.9;
    const bool fits = px(hole.x) + off + wide < px(plan_.width) - 0.5;
    draw_text(cairo_, fits ? px(hole.x) + off : px(hole.x) - off - wide, py(hole.y) - 0.71 * r - 0.9, hole.label,
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
    draw_line(cairo_, px(ex) - r * std::abs(hole.open_y), py(ey) - r * std::abs(hole.open_x),
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
      draw_line(cairo_, stop.at, py(highest), stop.at, py(0) + 3.0, 0.13, kFaint);
      draw_line(cairo_, stop.at, py(0) + 3.0, stop.text, py(0) + 7.0, 0.13, kFaint);
      const std::string text = length_in(stop.value, units_);
      const double wide = measure(cairo_, text, style).width;
      longest_below_ = std::max(longest_below_, wide);
      draw_text_upright(cairo_, stop.text + 1.1, py(0) + 8.2 + wide / 2.0, text, style);
    }
    std::vector<Stop> up = stops(false);
    spread(up, 4.6);
    for (const Stop& stop : up) {
      double farthest = 0.0;
      for (const PlanHole& hole : plan_.holes) {
        if (std::abs(hole.y - stop.value) < 0.05) farthest = std::max(farthest, hole.x);
      }
      draw_line(cairo_, px(farthest), stop.at, px(0) - 3.0, stop.at, 0.13, kFaint);
      draw_line(cairo_, px(0) - 3.0, stop.at, px(0) - 7.0, stop.text, 0.13, kFaint);
      const std::string text = length_in(stop.value, units_);
      const double wide = measure(cairo_, text, style).width;
      longest_left_ = std::max(longest_left_, wide);
      draw_text(cairo_, px(0) - 8.0 - wide, stop.text + 1.1, text, style);
    }
  }

  void arrow_head(double x, double y, double dx, double dy) {
    cairo_move_to(cairo_, x, y);
    cairo_line_to(cairo_, x - 2.2 * dx - 0.6 * dy, y - 2.2 * dy + 0.6 * dx);
    cairo_line_to(cairo_, x - 2.2 * dx + 0.6 * dy, y - 2.2 * dy - 0.6 * dx);
    cairo_close_path(cairo_);
    cairo_set_source_rgb(cairo_, look::kInk.red, look::kInk.green, look::kInk.blue);
    cairo_fill(cairo_);
  }

  void edges_and_overall() {
    const TextStyle name{3.0, false};
    const TextStyle value{3.4, true};
    const double cx = px(plan_.width / 2.0);
    const double cy = py(plan_.height / 2.0);
    // Overall sizes above and at the right, each with the name of its edge.
    const double above = py(plan_.height) - 5.0;
    draw_line(cairo_, px(0), above, px(plan_.width), above, 0.18);
    arrow_head(px(0), above, -1, 0);
    arrow_head(px(plan_.width), above, 1, 0);
    draw_text_centred(cairo_, cx, above - 1.2, length_in(plan_.width, units_), value);
    draw_text_centred(cairo_, cx, above - 6.0, edge(side_named(plan_.upper)), name, kFaint);
    const double beside = px(plan_.width) + 5.0;
    draw_line(cairo_, beside, py(0), beside, py(plan_.height), 0.18);
    arrow_head(beside, py(0), 0, 1);
    arrow_head(beside, py(plan_.height), 0, -1);
    draw_text_upright(cairo_, beside + 3.6, cy, length_in(plan_.height, units_), value);
    draw_text_upright(cairo_, beside + 7.8, cy, edge(side_named(plan_.right)), name, kFaint);
    draw_text_centred(cairo_, cx, py(0) + 12.5 + longest_below_, edge(side_named(plan_.lower)), name, kFaint);
    draw_text_upright(cairo_, px(0) - 10.5 - longest_left_, cy, edge(side_named(plan_.left)), name, kFaint);
  }

  /// The corner that everything is measured from.
  void corner() {
    cairo_move_to(cairo_, px(0) - 0.4, py(0) + 0.4);
    cairo_line_to(cairo_, px(0) - 4.0, py(0) + 0.4);
    cairo_line_to(cairo_, px(0) - 0.4, py(0) + 4.0);
    cairo_close_path(cairo_);
    cairo_set_source_rgb(cairo_, look::kInk.red, look::kInk.green, look::kInk.blue);
    cairo_fill(cairo_);
  }

  /// "UPPER FACE" and the arrow of the grain, where no hole and no line is.
  void face_mark() {
    const std::string text = face_title(side_named(plan_.face));
    const TextStyle style{4.0, true};
    const double text_width = measure(cairo_, text, style).width;
    const bool grain = plan_.stock != "mdf";
    const bool grain_along_x = plan_.width >= plan_.height;
    const double width = std::max(text_width, grain && grain_along_x ? 30.0 : 0.0) + 2.0;
    const double height = grain ? (grain_along_x ? 11.0 : 30.0) : 6.0;
    std::vector<RectMm> busy;
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
    std::optional<RectMm> best;
    double best_cost = 1e300;
    for (double y = py(plan_.height) + 1.0; y + height < py(0) - 1.0; y += 1.0) {
      for (double x = px(0) + 1.0; x + width < px(plan_.width) - 1.0; x += 1.0) {
        const RectMm box{x, y, width, height};
        double cost =
            0.01 * std::hypot(x + width / 2.0 - px(plan_.width / 2.0), y + height / 2.0 - py(plan_.height / 2.0));
        for (const RectMm& area : busy)
          cost += overlap(box, area) ? (area.width > 1.5 && area.height > 1.5 ? 50.0 : 3.0) : 0.0;
        if (cost < best_cost) {
          best_cost = cost;
          best = box;
        }
      }
    }
    if (!best || best_cost > 40.0) {
      // No room on the board itself: beside its upper edge.
      draw_text(cairo_, px(0), py(plan_.height) - 11.0,
                !grain          ? text
                : grain_along_x ? say("{}, grain left to right", text)
                                : say("{}, grain up and down", text),
                {3.4, true});
      return;
    }
    const double cx = best->x + width / 2.0;
    draw_text_centred(cairo_, cx, best->y + 4.0, text, style, kFaint);
    if (!grain) return;
    const TextStyle small{2.8, false};
    const std::string grain_word = say("grain");
    if (grain_along_x) {
      const double y = best->y + 8.0;
      const double half = 14.0;
      draw_line(cairo_, cx - half, y, cx + half, y, 0.25);
      arrow_head(cx - half, y, -1, 0);
      arrow_head(cx + half, y, 1, 0);
      const double word = measure(cairo_, grain_word, small).width / 2.0 + 1.0;
      draw_line(cairo_, cx - word, y, cx + word, y, 1.0, look::kBoard);
      draw_text_centred(cairo_, cx, y + 1.0, grain_word, small);
    } else {
      const double y0 = best->y + 7.0;
      const double y1 = best->y + height - 1.0;
      draw_line(cairo_, cx, y0, cx, y1, 0.25);
      arrow_head(cx, y0, 0, -1);
      arrow_head(cx, y1, 0, 1);
      draw_text_upright(cairo_, cx - 1.4, (y0 + y1) / 2.0, grain_word, small);
    }
  }

  void table(double top, std::size_t from, std::size_t to) {
    const std::vector<double> columns{0.0, 0.13, 0.40, 0.67, 0.84};
    const double room = width_ - 2 * kMargin;
    const TextStyle bold{3.2, true};
    const TextStyle plain{3.4, false};
    const std::vector<std::string> heads{say("hole for"), say("from {} edge", side(side_named(plan_.left))),
                                         say("from {} edge", side(side_named(plan_.lower))), say_in("column", "bit"),
                                         say_in("column", "kind")};
    double y = top + 4.2;
    for (std::size_t k = 0; k < heads.size(); ++k) draw_text(cairo_, kMargin + columns[k] * room, y, heads[k], bold);
    draw_line(cairo_, kMargin, top + kRow, width_ - kMargin, top + kRow, 0.3);
    for (std::size_t i = from; i < to; ++i) {
      const PlanHole& hole = plan_.holes[i];
      y += kRow;
      const std::string bit = hole.bit.empty() ? fine_metric_text(hole.diameter, false) : bit_text(hole.bit);
      std::string kind = say("through");
      if (hole.notch) {
        kind = say("slot, open to {}", opening(side_named(hole.open_x > 0   ? plan_.right
                                                          : hole.open_x < 0 ? plan_.left
                                                          : hole.open_y > 0 ? plan_.upper
                                                                            : plan_.lower)));
      }
      const std::vector<std::string> cells{hole.label.empty() ? "-" : hole.label, both_units(hole.x, units_),
                                           both_units(hole.y, units_), bit, kind};
      for (std::size_t k = 0; k < cells.size(); ++k) {
        draw_text(cairo_, kMargin + columns[k] * room, y, cells[k], k == 0 ? bold : plain);
      }
      draw_line(cairo_, kMargin, y + kRow - 4.2, width_ - kMargin, y + kRow - 4.2, 0.12, kRule);
    }
  }

  static TextStyle note_style(const std::string& line) { return {3.0, line.front() == '!'}; }

  /// Warnings and advice at the foot. Returns their height; draws only when asked to.
  double notes(bool draw) {
    std::vector<std::string> lines;
    for (const std::string& warning : plan_.warnings) lines.push_back("! " + warning);
    for (const PlanHole& hole : plan_.holes) {
      for (const std::string& warning : hole.warnings) {
        lines.push_back("! " + (hole.label.empty() ? warning : hole.label + ": " + warning));
      }
    }
    for (const PlanSpacing& spacing : plan_.to_measure) {
      const std::string apart = both_units(spacing.spacing, units_), give = small_in_both(spacing.slack, units_);
      const std::string stray = small_in_both(spacing.stray, units_);
      std::string line =
          spacing.stray > 0.0
              ? say("Measure the posts before drilling: {0} {1}, measured ____________. Holes give {2}, threads may stray "
                    "{3}.",
                    spacing.between, apart, give, stray)
              : say("Measure the posts before drilling: {0} {1}, measured ____________. Holes give {2}.",
                    spacing.between, apart, give);
      lines.push_back(spacing.binds ? say("! BINDS as drawn. {}", line) : std::move(line));
    }
    lines.push_back(say(
        "Seen from the {0} face, drawn at 1:{1}: do not measure on this drawing. All measures start at the marked corner; "
        "the grain runs along the longer side.",
        side(side_named(plan_.face)), with_mark(fmt::format("{:.3g}", scale_ > 0.0 ? 1.0 / scale_ : 1.0))));
    lines.push_back(
        say("Clamp the board with scrap beneath, wear eye protection, and check two measures before drilling."));
    constexpr double kLeading = 4.4;
    const double width = width_ - 2 * kMargin;
    if (!draw) {
      std::size_t count = 0;
      for (const std::string& line : lines) count += broken_lines(cairo_, line, width, note_style(line)).size();
      notes_height_ = kLeading * static_cast<double>(count) + 2.0;
      return notes_height_;
    }
    double y = height_ - kMargin - notes_height_ + kLeading;
    for (const std::string& line : lines) {
      y = draw_paragraph(cairo_, kMargin, y, width, kLeading, line, note_style(line));
    }
    return notes_height_;
  }

  cairo_t* cairo_;
  const BoardPlan& plan_;
  model::Units units_;
  double width_;
  double height_;
  double scale_ = 0.0;
  double x0_ = 0.0;
  double y0_ = 0.0;
  double notes_height_ = 0.0;
  double longest_below_ = 0.0;  // values along the lower and the left edge
  double longest_left_ = 0.0;
};

}  // namespace

PaperMm paper_mm(PaperSize size) { return size == PaperSize::a4 ? PaperMm{210.0, 297.0} : PaperMm{215.9, 279.4}; }

void add_board_sheet(PdfPages& pages, const std::string& frame_name, const BoardPlan& plan, model::Units units,
                     PaperSize paper) {
  PaperMm size = paper_mm(paper);
  if (plan.width > plan.height) std::swap(size.width, size.height);
  Sheet sheet(pages.new_page(size.width, size.height), plan, units, size.width, size.height);
  std::size_t done = sheet.draw(frame_name);
  while (done < plan.holes.size()) {
    Sheet next(pages.new_page(size.width, size.height), plan, units, size.width, size.height);
    done = next.more_rows(frame_name, done);
  }
}

std::string drill_pdf(const model::Frame& frame, const std::vector<planner::DrillSheet>& sheets, model::Units units,
                      PaperSize paper, bool full_size) {
  PdfPages pages(say("{}: drilling", frame.name));
  bool any = false;
  for (const planner::DrillSheet& sheet : sheets) {
    if (sheet.holes.empty()) continue;
    any = true;
    const BoardPlan plan = plan_of(frame, sheet);
    add_board_sheet(pages, frame.name, plan, units, paper);
    if (full_size) add_full_size(pages, frame.name, plan, paper);
  }
  if (!any) throw DrawError("no board of this frame has a hole or slot to drill");
  return pages.finish();
}

}  // namespace dryfit::cli
