#include "cli/draw/sheet/board_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/draw/paint/pen.hpp"
#include "cli/draw/sheet/plan_drawing.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/text/length.hpp"

namespace dryfit::cli {
namespace {

constexpr double kMargin = 12.0;
constexpr double kRow = 6.0;  // of the table
constexpr look::Tone kRule{0.75, 0.75, 0.75};

std::string told_length(double mm, model::Units units) {
  if (units == model::Units::in) return inch_text(mm);
  return metric_text(mm, units);
}

/// A clearance.
std::string told_clearance(double mm, model::Units units) {
  if (units != model::Units::in) return fine_metric_text(mm, false);
  return fine_inch_text(mm);
}

class Sheet {
 public:
  Sheet(Canvas& canvas, const BoardPlan& plan, model::Units units, double paper_width, double paper_height)
      : canvas_(canvas), plan_(plan), units_(units), width_(paper_width), height_(paper_height) {}

  /// Draws the first page; returns the index of the first hole that did not fit into its table.
  std::size_t draw(const std::string& frame_name) {
    head(frame_name);
    const double notes_height = notes(false);
    const std::size_t rows = std::min<std::size_t>(plan_.holes.size(), 12);
    const double table_height = kRow * static_cast<double>(rows + 1) + 4.0;
    const double drawing_top = kMargin + 18.0;
    const double drawing_bottom = height_ - kMargin - notes_height - table_height - 4.0;
    scale_ = draw_plan(canvas_, plan_, units_, {drawing_top, drawing_bottom, kMargin, width_});
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
    draw_text(canvas_, kMargin, kMargin + 5.5, say("Board {}", plan_.label), {7.0, true});
    std::string size = say("{0} x {1}, {2} thick", length_in(plan_.width, units_), length_in(plan_.height, units_),
                           length_in(plan_.thickness, units_));
    if (!plan_.stock.empty()) size += ", " + stock_word(plan_.stock);
    draw_text(canvas_, kMargin, kMargin + 12.0, size, {4.0, false});
    const TextStyle style{3.4, false};
    draw_text(canvas_, width_ - kMargin - measure(canvas_, frame_name, style).width, kMargin + 5.5, frame_name, style);
    draw_line(canvas_, kMargin, kMargin + 15.0, width_ - kMargin, kMargin + 15.0, 0.3);
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
    for (std::size_t k = 0; k < heads.size(); ++k) draw_text(canvas_, kMargin + columns[k] * room, y, heads[k], bold);
    draw_line(canvas_, kMargin, top + kRow, width_ - kMargin, top + kRow, 0.3);
    for (std::size_t i = from; i < to; ++i) {
      const PlanHole& hole = plan_.holes[i];
      y += kRow;
      const std::string bit = hole.bit.empty() ? told_length(hole.diameter, units_) : bit_text(hole.bit);
      std::string kind = say("through");
      if (hole.notch) {
        kind = say("slot, open to {}", opening(side_named(hole.open_x > 0   ? plan_.right
                                                          : hole.open_x < 0 ? plan_.left
                                                          : hole.open_y > 0 ? plan_.upper
                                                                            : plan_.lower)));
      }
      const std::vector<std::string> cells{hole.label.empty() ? "-" : hole.label, told_length(hole.x, units_),
                                           told_length(hole.y, units_), bit, kind};
      for (std::size_t k = 0; k < cells.size(); ++k) {
        draw_text(canvas_, kMargin + columns[k] * room, y, cells[k], k == 0 ? bold : plain);
      }
      draw_line(canvas_, kMargin, y + kRow - 4.2, width_ - kMargin, y + kRow - 4.2, 0.12, kRule);
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
      if (spacing.measured) {
        lines.push_back(say("The holes are laid out as the posts were measured: {0} {1}.", spacing.between,
                            told_length(spacing.spacing, units_)));
        continue;
      }
      const std::string apart = told_length(spacing.spacing, units_), give = told_clearance(spacing.slack, units_);
      const std::string stray = told_clearance(spacing.stray, units_);
      std::string line =
          spacing.stray > 0.0
              ? say("Measure the posts before you drill: {0} {1}, measured ____________. The holes allow {2}; thread "
                    "make-up can shift the posts {3}.",
                    spacing.between, apart, give, stray)
              : say("Measure the posts before you drill: {0} {1}, measured ____________. The holes allow {2}.",
                    spacing.between, apart, give);
      lines.push_back(spacing.binds ? say("! BINDS as drawn. {}", line) : std::move(line));
    }
    lines.push_back(say(
        "Seen from the {0} face, drawn at 1:{1}: do not measure on this drawing. All measures start at the marked corner; "
        "the grain runs along the longer side.",
        side(side_named(plan_.face)), with_mark(fmt::format("{:.3g}", scale_ > 0.0 ? 1.0 / scale_ : 1.0))));
    lines.push_back(
        say("Clamp the board on scrap wood. Wear eye protection and a dust mask. Check two measures before "
            "you drill."));
    constexpr double kLeading = 4.4;
    const double width = width_ - 2 * kMargin;
    if (!draw) {
      std::size_t count = 0;
      for (const std::string& line : lines) count += broken_lines(canvas_, line, width, note_style(line)).size();
      notes_height_ = kLeading * static_cast<double>(count) + 2.0;
      return notes_height_;
    }
    double y = height_ - kMargin - notes_height_ + kLeading;
    for (const std::string& line : lines) {
      y = draw_paragraph(canvas_, kMargin, y, width, kLeading, line, note_style(line));
    }
    return notes_height_;
  }

  Canvas& canvas_;
  const BoardPlan& plan_;
  model::Units units_;
  double width_;
  double height_;
  double scale_ = 0.0;
  double notes_height_ = 0.0;
};

/// The plan of a template that also serves the boards of the range that are drilled like it: labels of all.
BoardPlan shared_template(BoardPlan plan, std::vector<BoardPlan>::const_iterator other,
                          std::vector<BoardPlan>::const_iterator end) {
  const BoardPlan first = plan;
  for (; other != end; ++other) {
    if (!drilled_alike(first, *other)) continue;
    plan.label += ", " + other->label;
    for (std::size_t i = 0; i < plan.holes.size(); ++i) {
      if (first.holes[i].label != other->holes[i].label) plan.holes[i].label += ", " + other->holes[i].label;
    }
  }
  return plan;
}

}  // namespace

PaperMm paper_mm(PaperSize size) { return size == PaperSize::a4 ? PaperMm{210.0, 297.0} : PaperMm{215.9, 279.4}; }

void add_board_sheet(PaperPages& pages, const std::string& frame_name, const BoardPlan& plan, model::Units units,
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

std::vector<std::string> drill_pages(const model::Frame& frame, const std::vector<planner::DrillSheet>& sheets,
                                     model::Units units, const DrillPaper& wanted) {
  std::vector<BoardPlan> plans;
  for (const planner::DrillSheet& sheet : sheets) {
    if (!sheet.holes.empty()) plans.push_back(plan_of(frame, sheet));
  }
  if (plans.empty()) throw DrawError(say("no board of this frame has a hole or slot to drill"));
  PaperPages pages(wanted.format, say("{}: drilling", frame.name));
  for (auto plan = plans.begin(); plan != plans.end(); ++plan) {
    add_board_sheet(pages, frame.name, *plan, units, wanted.size);
    const auto alike = [&](const BoardPlan& other) { return drilled_alike(*plan, other); };
    if (!wanted.full_size || std::any_of(plans.begin(), plan, alike)) continue;
    add_full_size(pages, frame.name, shared_template(*plan, plan + 1, plans.end()), units, wanted.size);
  }
  return pages.finish();
}

}  // namespace dryfit::cli
