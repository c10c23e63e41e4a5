#include "cli/draw/sheet/face_mark.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "cli/draw/paint/pen.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

constexpr look::Tone kMarkTone{0.45, 0.45, 0.45};
constexpr double kArrow = 28.0;  // mm: length of the grain's arrow

/// All wording of this file.
namespace says {
constexpr const char* kGrain = marked("grain");
constexpr const char* kAcross = marked("grain left to right");
constexpr const char* kUpright = marked("grain up and down");
}  // namespace says

bool has_grain(const BoardPlan& plan) { return plan.stock != "mdf"; }
bool grain_across(const BoardPlan& plan) { return plan.width >= plan.height; }

bool is_line(const RectMm& box) { return box.width <= 1.5 || box.height <= 1.5; }

/// The box of that size within `area` that covers least of what is busy, nearest to the middle; none without room.
std::optional<RectMm> free_box(double width, double height, RectMm area, const std::vector<RectMm>& busy) {
  std::optional<RectMm> best;
  double best_cost = 40.0;
  for (double y = area.y; y + height < area.y + area.height; y += 1.0) {
    for (double x = area.x; x + width < area.x + area.width; x += 1.0) {
      const RectMm box{x, y, width, height};
      double cost =
          0.01 * std::hypot(x + width / 2.0 - area.x - area.width / 2.0, y + height / 2.0 - area.y - area.height / 2.0);
      for (const RectMm& other : busy) {
        if (overlap(box, other)) cost += is_line(other) ? 3.0 : 50.0;
      }
      if (cost >= best_cost) continue;
      best_cost = cost;
      best = box;
    }
  }
  return best;
}

}  // namespace

std::string face_words(const BoardPlan& plan) { return face_title(side_named(plan.face)); }

std::string grain_words(const BoardPlan& plan) {
  return !has_grain(plan) ? "" : grain_across(plan) ? say(says::kAcross) : say(says::kUpright);
}

void draw_arrow_head(Canvas& canvas, double x, double y, double dx, double dy) {
  canvas.move_to(x, y);
  canvas.line_to(x - 2.2 * dx - 0.6 * dy, y - 2.2 * dy + 0.6 * dx);
  canvas.line_to(x - 2.2 * dx + 0.6 * dy, y - 2.2 * dy - 0.6 * dx);
  canvas.close();
  canvas.use(look::kInk);
  canvas.fill();
}

bool draw_face_mark(Canvas& canvas, const BoardPlan& plan, RectMm area, const std::vector<RectMm>& busy,
                    look::Tone ground) {
  const std::string text = face_words(plan);
  const TextStyle style{4.0, true};
  const TextStyle small{2.8, false};
  const double text_width = measure(canvas, text, style).width;
  const bool grain = has_grain(plan);
  const std::string grain_word = say(says::kGrain);
  const bool across = grain_across(plan);
  const double width = std::max(text_width, grain && across ? kArrow + 2.0 : 0.0) + 2.0;
  const double height = !grain ? 6.0 : across ? 11.0 : kArrow + 7.0;
  const std::optional<RectMm> place = free_box(width, height, area, busy);
  if (!place) return false;
  const double cx = place->x + width / 2.0;
  draw_text_centred(canvas, cx, place->y + 4.0, text, style, kMarkTone);
  if (!grain) return true;
  if (across) {
    const double y = place->y + 8.0;
    draw_line(canvas, cx - kArrow / 2.0, y, cx + kArrow / 2.0, y, 0.25);
    draw_arrow_head(canvas, cx - kArrow / 2.0, y, -1, 0);
    draw_arrow_head(canvas, cx + kArrow / 2.0, y, 1, 0);
    const double word = measure(canvas, grain_word, small).width / 2.0 + 1.0;
    draw_line(canvas, cx - word, y, cx + word, y, 1.0, ground);
    draw_text_centred(canvas, cx, y + 1.0, grain_word, small);
  } else {
    const double y0 = place->y + 6.0;
    draw_line(canvas, cx, y0, cx, y0 + kArrow, 0.25);
    draw_arrow_head(canvas, cx, y0, 0, -1);
    draw_arrow_head(canvas, cx, y0 + kArrow, 0, 1);
    draw_text_upright(canvas, cx - 1.4, y0 + kArrow / 2.0, grain_word, small);
  }
  return true;
}

}  // namespace dryfit::cli
