#include "cli/draw/sheet/price_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/draw/paint/pen.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace says {
constexpr const char* kSteps = marked("steps done");
constexpr const char* kNow = marked("now");
constexpr const char* kDoubt = marked("Dashed: at most that much, at least the full bar.");
}  // namespace says

constexpr double kPlotHeight = 62.0;
constexpr double kChartLeading = 4.6;
constexpr look::Tone kBar{0.80, 0.80, 0.80};
constexpr look::Tone kJump{0.35, 0.35, 0.35};
constexpr look::Tone kChartGrid{0.82, 0.82, 0.82};
const TextStyle kChartSmall{2.8, false};
const TextStyle kChartText{3.4, false};

bool doubtful(const PriceChart& chart) { return chart.at_least != chart.at_most; }

/// A distance of 1, 2 or 5 times a power of ten, so that at most `most` of them make `range`.
double nice_step(double range, double most, bool whole) {
  double step = whole ? 1.0 : 0.1;
  for (const double factor : {2.0, 2.5, 2.0, 2.0, 2.5, 2.0, 2.0, 2.5, 2.0, 2.0, 2.5, 2.0}) {
    if (range / step <= most) break;
    step *= factor;
  }
  return step;
}

std::string number(double value) { return fmt::format("{:g}", std::round(value * 10.0) / 10.0); }

void fill(Canvas& canvas, double x, double y, double width, double height, look::Tone tone) {
  canvas.use(tone);
  canvas.box(x, y, width, height);
  canvas.fill();
}

/// Where bars stand on the page.
struct Plot {
  double left = 0.0;
  double bottom = 0.0;
  double per_step = 0.0;
  double per_unit = 0.0;
  [[nodiscard]] double middle(std::size_t step) const { return left + (static_cast<double>(step) + 0.5) * per_step; }
  [[nodiscard]] double height(double price) const { return price * per_unit; }
};

void draw_axes(Canvas& canvas, const Plot& plot, const PriceChart& chart, double right, double top) {
  const double most = std::max(1.0, *std::max_element(chart.at_most.begin(), chart.at_most.end()));
  const double tick = nice_step(most, 8.0, chart.whole);
  for (double value = 0.0; value <= most + 1e-9; value += tick) {
    const double y = plot.bottom - plot.height(value);
    if (value > 0.0) draw_line(canvas, plot.left, y, right, y, 0.12, kChartGrid);
    const std::string text = number(value);
    draw_text(canvas, plot.left - 1.6 - measure(canvas, text, kChartSmall).width, y + 1.0, text, kChartSmall);
  }
  draw_line(canvas, plot.left, top, plot.left, plot.bottom, 0.3);
  draw_line(canvas, plot.left, plot.bottom, right, plot.bottom, 0.3);
  const auto every = static_cast<std::size_t>(std::max(
      1.0, nice_step(static_cast<double>(chart.at_most.size()), right > 0.0 ? (right - plot.left) / 7.0 : 1.0, true)));
  for (std::size_t k = 0; k < chart.at_most.size(); k += every) {
    draw_text_centred(canvas, plot.middle(k), plot.bottom + 3.8, std::to_string(k), kChartSmall);
  }
  draw_text(canvas, right - measure(canvas, say(says::kSteps), kChartSmall).width, plot.bottom + 8.0, say(says::kSteps),
            kChartSmall);
  draw_text(canvas, plot.left - 10.0, top - 2.2, chart.unit, kChartSmall);
}

/// `said_to`: right edge of the last number written over a bar.
void draw_bar(Canvas& canvas, const Plot& plot, const PriceChart& chart, std::size_t k, double& said_to) {
  const bool jump = std::find(chart.jumps.begin(), chart.jumps.end(), static_cast<int>(k)) != chart.jumps.end();
  const double width = plot.per_step * 0.72;
  const double x = plot.middle(k) - width / 2.0;
  const double sure = plot.height(chart.at_least[k]);
  const double most = plot.height(chart.at_most[k]);
  if (sure > 0.0) {
    fill(canvas, x, plot.bottom - sure, width, sure, jump ? kJump : kBar);
    draw_box(canvas, x, plot.bottom - sure, width, sure, 0.2);
  }
  if (most > sure) {
    const double y = plot.bottom - most;
    draw_dashed(canvas, x, plot.bottom - sure, x, y, 0.25, 0.8);
    draw_dashed(canvas, x, y, x + width, y, 0.25, 0.8);
    draw_dashed(canvas, x + width, y, x + width, plot.bottom - sure, 0.25, 0.8);
  }
  // A number where the price changes: the bars between read along.
  if (chart.at_most[k] > 0.0 && (k == 0 || chart.at_most[k] != chart.at_most[k - 1])) {
    const TextStyle style{2.8, jump};
    const std::string text = number(chart.at_most[k]);
    const double half = measure(canvas, text, style).width / 2.0;
    if (plot.middle(k) - half < said_to + 0.6) return;
    draw_text_centred(canvas, plot.middle(k), plot.bottom - most - 1.0, text, style);
    said_to = plot.middle(k) + half;
  }
}

void draw_mark(Canvas& canvas, const Plot& plot, const PriceChart& chart, double top, double right) {
  const double x = plot.left + static_cast<double>(std::max(chart.decide_before, 0)) * plot.per_step;
  draw_dashed(canvas, x, top, x, plot.bottom, 0.45, 1.6);
  const TextStyle style{3.2, true};
  const double wide = measure(canvas, chart.mark, style).width;
  // Left of the line nothing is drawn but the free steps: there is room, unless the line stands at the very left.
  const double at = x - 1.2 - wide > plot.left ? x - 1.2 - wide : std::min(x + 1.2, right - wide);
  fill(canvas, at - 0.6, top - 0.4, wide + 1.2, 4.4, look::kPaper);
  draw_text(canvas, at, top + 2.8, chart.mark, style);
}

}  // namespace

double price_chart_height(const PriceChart& chart) {
  const double notes = static_cast<double>(chart.notes.size()) + (doubtful(chart) ? 1.0 : 0.0);
  return 30.0 + kPlotHeight + 14.0 + kChartLeading * 2.0 * notes;
}

void draw_price_chart(Canvas& canvas, RectMm area, const PriceChart& chart) {
  constexpr double kChartMargin = 8.0;
  const double left = area.x + kChartMargin, right = area.x + area.width - kChartMargin;
  TextStyle title{5.0, true};
  const double wide = measure(canvas, chart.title, title).width;
  if (wide > right - left) title.size *= (right - left) / wide;
  draw_text(canvas, left, area.y + 11.0, chart.title, title);
  draw_text(canvas, left, area.y + 17.5, chart.verdict, kChartText);

  const double top = area.y + 27.0;
  const double most = std::max(1.0, *std::max_element(chart.at_most.begin(), chart.at_most.end()));
  Plot plot;
  plot.left = left + 10.0;
  plot.bottom = top + kPlotHeight;
  plot.per_step = (right - plot.left) / static_cast<double>(chart.at_most.size());
  plot.per_unit = (kPlotHeight - 7.0) / most;
  draw_axes(canvas, plot, chart, right, top);
  double said_to = 0.0;
  for (std::size_t k = 0; k < chart.at_most.size(); ++k) draw_bar(canvas, plot, chart, k, said_to);
  if (!chart.mark.empty()) draw_mark(canvas, plot, chart, top, right);
  if (chart.built >= 0) {
    const double x = plot.middle(dryfit::at(chart.built));
    draw_text_centred(canvas, x, plot.bottom + 7.8, say(says::kNow), {2.8, true});
    draw_line(canvas, x, plot.bottom + 4.4, x, plot.bottom + 5.4, 0.5);
  }
  double y = plot.bottom + 14.0;
  for (const std::string& note : chart.notes)
    y = draw_paragraph(canvas, left, y, right - left, kChartLeading, note, kChartText);
  if (doubtful(chart)) draw_text(canvas, left, y, say(says::kDoubt), kChartText);
}

}  // namespace dryfit::cli
