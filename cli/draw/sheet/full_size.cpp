#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cli/draw/paint/pen.hpp"
#include "cli/draw/sheet/board_sheet.hpp"
#include "cli/draw/sheet/face_mark.hpp"
#include "cli/draw/sheet/plan_drawing.hpp"
#include "cli/draw/sheet/tiling.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

constexpr double kTileMargin = Tiling::kMargin;
constexpr double kFoot = Tiling::kFoot;
constexpr double kOverlap = Tiling::kOverlap;
constexpr double kCross = Tiling::kCross;
constexpr look::Tone kRulerTone{0.45, 0.45, 0.45};

/// A, B, ... Z, AA, AB, ...
std::string letters(int n) {
  std::string out;
  for (++n; n > 0; n = (n - 1) / 26) out.insert(out.begin(), static_cast<char>('A' + (n - 1) % 26));
  return out;
}

class TemplatePage {
 public:
  TemplatePage(Canvas& canvas, const BoardPlan& plan, model::Units units, const Tiling& tiling, int column, int row)
      : canvas_(canvas),
        plan_(plan),
        units_(units),
        tiling_(tiling),
        column_(column),
        row_(row),
        left_(tiling.lefts[at(column)]),
        lower_(tiling.lowers[at(row)]) {}

  void draw(const std::string& frame_name) {
    canvas_.save();
    canvas_.box(kTileMargin, kTileMargin, tiling_.width, tiling_.height);
    canvas_.clip();
    draw_edges();
    for (const PlanHole& hole : plan_.holes) draw_hole(hole);
    canvas_.restore();
    draw_seams();
    mark_face();
    draw_foot(frame_name);
  }

 private:
  /// Page coordinates of a place on the board.
  [[nodiscard]] double px(double x) const { return kTileMargin + x - left_; }
  [[nodiscard]] double py(double y) const { return kTileMargin + tiling_.height - (y - lower_); }
  [[nodiscard]] bool shows(double x, double y, double reach) const {
    return x > left_ - reach && x < left_ + tiling_.width + reach && y > lower_ - reach &&
           y < lower_ + tiling_.height + reach;
  }

  void draw_edges() {
    draw_box(canvas_, px(0), py(plan_.height), plan_.width, plan_.height, 0.35);
    const TextStyle style{3.2, true};
    // Along each edge that this page shows, its name, well inside the page.
    const double x = std::clamp(plan_.width / 2.0, left_ + 25.0, left_ + tiling_.width - 25.0);
    const double y = std::clamp(plan_.height / 2.0, lower_ + 25.0, lower_ + tiling_.height - 25.0);
    draw_text_centred(canvas_, px(x), py(2.0), edge(side_named(plan_.lower)), style, kRulerTone);
    draw_text_centred(canvas_, px(x), py(plan_.height - 4.5), edge(side_named(plan_.upper)), style, kRulerTone);
    draw_text_upright(canvas_, px(4.5), py(y), edge(side_named(plan_.left)), style, kRulerTone);
    draw_text_upright(canvas_, px(plan_.width - 2.0), py(y), edge(side_named(plan_.right)), style, kRulerTone);
  }

  void draw_hole(const PlanHole& hole) {
    const double r = hole.diameter / 2.0;
    if (!hole.notch && !shows(hole.x, hole.y, r + 20.0)) return;
    if (hole.notch) {
      // A round end, then two saw lines out to the edge.
      const double along = std::atan2(-hole.open_y, hole.open_x);
      const double ex = hole.open_x == 0 ? hole.x : hole.open_x > 0 ? plan_.width : 0.0;
      const double ey = hole.open_y == 0 ? hole.y : hole.open_y > 0 ? plan_.height : 0.0;
      const double sx = -r * hole.open_y;
      const double sy = r * hole.open_x;
      draw_line(canvas_, px(hole.x + sx), py(hole.y + sy), px(ex + sx), py(ey + sy), 0.3);
      draw_line(canvas_, px(hole.x - sx), py(hole.y - sy), px(ex - sx), py(ey - sy), 0.3);
      canvas_.begin();
      canvas_.arc(px(hole.x), py(hole.y), r, along + std::numbers::pi / 2.0, along + 1.5 * std::numbers::pi);
      canvas_.stroke();
    } else {
      draw_circle(canvas_, px(hole.x), py(hole.y), r, 0.3);
    }
    draw_cross(canvas_, px(hole.x), py(hole.y), r + kCross, 0.18);
    draw_circle(canvas_, px(hole.x), py(hole.y), 1.5, 0.18);
    const std::string size =
        hole.bit.empty() ? say("diameter {}", length_in(hole.diameter, units_)) : say("bit {}", bit_text(hole.bit));
    // Beside the hole, away from the way a slot is open.
    const bool below = hole.open_y > 0;
    const TextStyle bold{5.0, true};
    const TextStyle plain{3.2, false};
    const std::string what = hole.notch ? say("{}, then saw", size) : size;
    const double wide = std::max(measure(canvas_, hole.label, bold).width, measure(canvas_, what, plain).width);
    // Nor over the edge of the board.
    const bool to_left = hole.open_x > 0 || px(hole.x + 0.75 * r + 3.0) + wide > px(plan_.width) - 1.0;
    const double tx = to_left ? px(hole.x - 0.75 * r - 3.0) - wide : px(hole.x + 0.75 * r + 3.0);
    const double ty = below ? py(hole.y - 0.75 * r - 5.5) : py(hole.y + 0.75 * r + 5.5);
    draw_text(canvas_, tx, ty, hole.label, bold);
    draw_text(canvas_, tx, ty + 4.2, what, plain);
    keep_off({tx, ty - 4.5, wide, 10.0});
    const double ex = hole.notch && hole.open_x != 0 ? (hole.open_x > 0 ? plan_.width : 0.0) : hole.x;
    const double ey = hole.notch && hole.open_y != 0 ? (hole.open_y > 0 ? plan_.height : 0.0) : hole.y;
    const double reach = r + 7.0;
    keep_off({px(std::min(hole.x, ex)) - reach, py(std::max(hole.y, ey)) - reach, std::abs(ex - hole.x) + 2.0 * reach,
              std::abs(ey - hole.y) + 2.0 * reach});
  }

  /// The face mark stays clear of it by a little.
  void keep_off(RectMm box) { busy_.push_back({box.x - 1.0, box.y - 1.0, box.width + 2.0, box.height + 2.0}); }

  /// The face and the grain, on what this page shows of the board, clear of the names of edges and of the seams.
  void mark_face() {
    constexpr double kEdge = 8.0;
    constexpr double kSeam = kOverlap + 5.0;
    const double x0 = std::max(px(0) + kEdge, joined_left() ? kTileMargin + kSeam : kTileMargin);
    const double x1 = std::min(px(plan_.width) - kEdge,
                               kTileMargin + tiling_.width - (tiling_.joined_right(column_, row_) ? kSeam : 0.0));
    const double y0 =
        std::max(py(plan_.height) + kEdge, tiling_.joined_above(column_, row_) ? kTileMargin + kSeam : kTileMargin);
    const double y1 = std::min(py(0) - kEdge, kTileMargin + tiling_.height - (joined_below() ? kSeam : 0.0));
    if (x1 <= x0 || y1 <= y0) return;
    draw_face_mark(canvas_, plan_, {x0, y0, x1 - x0, y1 - y0}, busy_, look::kPaper);
  }

  /// A diamond on a cross; the same letter stands on the neighbour's twin.
  void draw_match(double x, double y, const std::string& letter) {
    const double cx = px(x);
    const double cy = py(y);
    keep_off({cx - 5.0, cy - 6.0, 12.0, 11.0});
    draw_cross(canvas_, cx, cy, 4.0, 0.18);
    canvas_.move_to(cx - 2.5, cy);
    canvas_.line_to(cx, cy - 2.5);
    canvas_.line_to(cx + 2.5, cy);
    canvas_.line_to(cx, cy + 2.5);
    canvas_.close();
    canvas_.stroke();
    draw_text(canvas_, cx + 1.2, cy - 2.6, letter, {3.4, true});
  }

  [[nodiscard]] bool joined_left() const { return tiling_.joined_right(column_ - 1, row_); }
  [[nodiscard]] bool joined_below() const { return tiling_.joined_above(column_, row_ - 1); }

  /// Seams are numbered over the whole board: those between columns first.
  [[nodiscard]] std::string seam_letter(bool between_columns, int column, int row) const {
    int n = 0;
    for (int r = 0; r < tiling_.rows(); ++r) {
      for (int c = 0; c < tiling_.columns(); ++c) {
        if (between_columns && r == row && c == column) return letters(n);
        if (tiling_.joined_right(c, r)) ++n;
      }
    }
    for (int r = 0; r < row; ++r) {
      for (int c = 0; c < tiling_.columns(); ++c) n += tiling_.joined_above(c, r) ? 1 : 0;
    }
    for (int c = 0; c < column; ++c) n += tiling_.joined_above(c, row) ? 1 : 0;
    return letters(n);
  }

  /// Near the wanted part of the page, but clear of holes and their crosses.
  [[nodiscard]] double match_place(bool between_columns, double seam_at, double part) const {
    const double start = between_columns ? lower_ : left_;
    const double length = between_columns ? tiling_.height : tiling_.width;
    for (const double step : {0.0, 0.05, -0.05, 0.1, -0.1, 0.15, -0.15, 0.2, -0.2}) {
      const double along = start + (part + step) * length;
      const double x = between_columns ? seam_at : along;
      const double y = between_columns ? along : seam_at;
      const bool clear = std::none_of(plan_.holes.begin(), plan_.holes.end(), [&](const PlanHole& hole) {
        // A slot is its middle line out to the edge.
        const double t = hole.notch ? std::max(0.0, (x - hole.x) * hole.open_x + (y - hole.y) * hole.open_y) : 0.0;
        return std::hypot(x - hole.x - t * hole.open_x, y - hole.y - t * hole.open_y) < hole.diameter / 2.0 + 14.0;
      });
      if (clear) return along;
    }
    return start + part * length;
  }

  void seam(bool between_columns, int column, int row, bool cut_here) {
    const std::string letter = seam_letter(between_columns, column, row);
    for (const double part : {0.25, 0.75}) {
      if (between_columns) {
        const double x = (tiling_.lefts[at(column)] + tiling_.width + tiling_.lefts[at(column) + 1]) / 2.0;
        draw_match(x, match_place(true, x, part), letter);
        if (part == 0.25) line_at(px(x), kTileMargin, px(x), kTileMargin + tiling_.height, cut_here);
      } else {
        const double y = (tiling_.lowers[at(row)] + tiling_.height + tiling_.lowers[at(row) + 1]) / 2.0;
        draw_match(match_place(false, y, part), y, letter);
        if (part == 0.25) line_at(kTileMargin, py(y), kTileMargin + tiling_.width, py(y), cut_here);
      }
    }
  }
  void line_at(double x0, double y0, double x1, double y1, bool cut_here) {
    if (cut_here) {
      draw_dashed(canvas_, x0, y0, x1, y1, 0.2, 3.0);
    } else {
      draw_line(canvas_, x0, y0, x1, y1, 0.12, kRulerTone);
    }
  }

  void draw_seams() {
    if (joined_left()) seam(true, column_ - 1, row_, true);
    if (tiling_.joined_right(column_, row_)) seam(true, column_, row_, false);
    if (joined_below()) seam(false, column_, row_ - 1, true);
    if (tiling_.joined_above(column_, row_)) seam(false, column_, row_, false);
  }

  void draw_foot(const std::string& frame_name) {
    const double top = tiling_.paper_height - kTileMargin - kFoot;
    const double x = kTileMargin + 1.0;
    // Rulers: ticks stand on a base line whose length is the measure.
    const double metric = top + 9.0;
    draw_line(canvas_, x, metric, x + 100.0, metric, 0.25);
    for (int k = 0; k <= 10; ++k) {
      draw_line(canvas_, x + 10.0 * k, metric, x + 10.0 * k, metric - (k % 5 == 0 ? 4.0 : 2.5), 0.25);
    }
    draw_text(canvas_, x, metric - 5.0, "100 mm", {2.8, true});
    const double inch = top + 14.0;
    draw_line(canvas_, x, inch, x + 101.6, inch, 0.25);
    for (int k = 0; k <= 16; ++k) {
      draw_line(canvas_, x + 6.35 * k, inch, x + 6.35 * k, inch + (k % 4 == 0 ? 4.0 : k % 2 == 0 ? 2.5 : 1.5), 0.25);
    }
    draw_text(canvas_, x, inch + 7.2, say("{} in", 4), {2.8, true});
    const double text = x + 110.0;
    const double width = tiling_.paper_width - kTileMargin - text;
    double y = top + 5.5;
    y = draw_paragraph(canvas_, text, y, width, 4.6,
                       say("{0}: {1} face, full size", plan_.label, side(side_named(plan_.face))), {4.0, true});
    y = draw_paragraph(
        canvas_, text, y, width, 3.8,
        say("page {0} of {1}: row {2} {3}, column {4} {5}. {6}", tiling_.number(column_, row_), tiling_.pages(),
            row_ + 1, from_edge(side_named(plan_.lower)), column_ + 1, from_edge(side_named(plan_.left)), frame_name),
        {2.8, false});
    draw_shrunk(x + 16.0, inch + 7.2, 92.0, 2,
                say("Measure both rulers before drilling. Print at actual size (100 %), without fitting to the page."));
    std::string how;
    if (any_joined()) {
      how = say(
          "Cut on the dashed lines, lay each cut edge on its neighbour's grey line with equal letters on one another, then "
          "tape.");
    }
    const std::string alone = alone_text();
    if (!tiling_.whole && alone.empty()) {
      how += how.empty() ? "" : " ";
      how += say("Lay it on by the {0} and the {1}: nothing to drill beyond.", edge(side_named(plan_.left)),
                 edge(side_named(plan_.lower)));
    }
    if (!how.empty()) y = draw_paragraph(canvas_, text, y, width, 3.8, how, {2.8, false});
    draw_paragraph(canvas_, text, y, width, 3.8, alone, {2.8, true});
    draw_shrunk(x, inch + 14.2, text - x - 4.0, 3, spacings_text());
  }

  /// Under the rulers, in no more lines than there is room for.
  void draw_shrunk(double x, double y, double width, std::size_t most, const std::string& words) {
    TextStyle style{2.8, true};
    while (style.size > 1.6 && broken_lines(canvas_, words, width, style).size() > most) style.size -= 0.1;
    draw_paragraph(canvas_, x, y, width, 1.3 * style.size, words, style);
  }

  /// This page is taped to another one.
  [[nodiscard]] bool any_joined() const {
    return joined_left() || joined_below() || tiling_.joined_right(column_, row_) ||
           tiling_.joined_above(column_, row_);
  }

  /// Where a page lies that nothing joins to the one before it, since there is nothing to drill between.
  [[nodiscard]] std::string alone_text() const {
    if (joined_left() || joined_below() || tiling_.number(column_, row_) == 1) return "";
    const auto here = [&](const PlanHole& hole) { return shows(hole.x, hole.y, 0.0); };
    const auto hole = std::find_if(plan_.holes.begin(), plan_.holes.end(), here);
    if (hole == plan_.holes.end()) return "";
    std::string text = say("Not joined to another page. Centre of {0}: {1} from the {2}, {3} from the {4}.",
                           named(*hole), length_in(hole->x, units_), edge(side_named(plan_.left)),
                           length_in(hole->y, units_), edge(side_named(plan_.lower)));
    const auto other = std::find_if_not(plan_.holes.begin(), plan_.holes.end(), here);
    if (other != plan_.holes.end()) {
      text += " " + say("From centre to centre, {0} to {1}: {2}.", named(*other), named(*hole),
                        length_in(std::hypot(hole->x - other->x, hole->y - other->y), units_));
    }
    return text;
  }
  [[nodiscard]] static std::string named(const PlanHole& hole) {
    return hole.label.empty() ? say_in("a hole without a name", "the hole") : hole.label;
  }

  /// What is known of the posts that the board is to go over.
  [[nodiscard]] std::string spacings_text() const {
    std::string measured, open;
    for (const PlanSpacing& spacing : plan_.to_measure) {
      std::string& list = spacing.measured ? measured : open;
      if (!list.empty()) list += "; ";
      list += spacing.between + " " + length_in(spacing.spacing, units_);
    }
    std::string text;
    if (!measured.empty()) text = say("As measured, centre to centre: {}.", measured);
    if (!open.empty()) {
      text += text.empty() ? "" : " ";
      text += say("Measure the posts before you drill, centre to centre; drawn for {}.", open);
    }
    return text;
  }

  Canvas& canvas_;
  const BoardPlan& plan_;
  model::Units units_;
  const Tiling& tiling_;
  int column_;
  int row_;
  double left_;  ///< of the board at the page's lower left corner
  double lower_;
  std::vector<RectMm> busy_;  ///< page places that the face mark keeps off
};

}  // namespace

void add_full_size(PaperPages& pages, const std::string& frame_name, const BoardPlan& plan, model::Units units,
                   PaperSize paper) {
  const PaperMm size = paper_mm(paper);
  const Tiling upright = tiling_for(plan, size.width, size.height);
  const Tiling across = tiling_for(plan, size.height, size.width);
  const Tiling tiling = across.pages() < upright.pages() ? across : upright;
  constexpr int kMost = 400;
  if (tiling.pages() > kMost) {
    throw DrawError(say("a full-size template of board '{0}' would take {1} pages, more than {2}", plan.label,
                        tiling.pages(), kMost));
  }
  for (int row = 0; row < tiling.rows(); ++row) {
    for (int column = 0; column < tiling.columns(); ++column) {
      if (!tiling.prints(column, row)) continue;
      Canvas& canvas = pages.new_page(tiling.paper_width, tiling.paper_height);
      TemplatePage(canvas, plan, units, tiling, column, row).draw(frame_name);
    }
  }
}

}  // namespace dryfit::cli
