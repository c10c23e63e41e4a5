#include "cli/change/change_chart.hpp"

#include <fmt/format.h>

#include "cli/change/change_report.hpp"
#include "cli/draw/sheet/price_chart.hpp"
#include "cli/sentences/closed_out_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace says {
constexpr const char* kInto = marked("{0} into {1}");
constexpr const char* kSet = marked("{0} with {1}");
constexpr const char* kFree = marked("You can make this change at any step: nothing has to come off.");
constexpr const char* kDecide = marked("Nothing to undo until step {0} is done: decide before step {1}.");
constexpr const char* kAtOnce = marked("Decide before step 1: even the first step would have to be undone.");
constexpr const char* kJump = marked("With step {0} ({1}) it goes from {2} to {3}.");
constexpr const char* kMark = marked("decide before step {}");
constexpr const char* kMoves = marked("joints to undo");
constexpr const char* kScore = marked("effort score of what has to be undone");
}  // namespace says

}  // namespace

std::string change_chart(const ChangeAnswer& answer, const std::string& path) {
  const model::Frame& of = answer.old_design.frame;
  const model::Frame& nf = answer.new_design.frame;
  PriceChart chart;
  chart.title = answer.set.empty() ? say(says::kInto, of.name, nf.name) : say(says::kSet, of.name, listed(answer.set));
  for (const planner::PriceAt& p : answer.curve) {
    chart.at_least.push_back(p.price.at_least);
    chart.at_most.push_back(p.price.at_most);
  }
  chart.unit = answer.by_effort ? say(says::kScore) : say(says::kMoves);
  chart.whole = !answer.by_effort;
  chart.built = answer.built.steps;
  const int last_free = last_free_step(answer.curve);
  if (last_free == answer.curve.back().built) {
    chart.verdict = say(says::kFree);
  } else {
    chart.decide_before = last_free + 1;
    chart.verdict = last_free > 0 ? say(says::kDecide, last_free, last_free + 1) : say(says::kAtOnce);
    chart.mark = say(says::kMark, std::max(1, last_free + 1));
  }
  for (const PriceJump& jump : jumps_of(answer.curve, answer.by_effort)) {
    chart.jumps.push_back(jump.step);
    chart.notes.push_back(say(says::kJump, jump.step,
                              contacts_text(of, answer.old_design.contacts, answer.built.order[at(jump.step) - 1], 4),
                              price_text(jump.from, answer.by_effort), price_text(jump.to, answer.by_effort)));
  }
  constexpr double kWidth = 180.0;
  const double height = price_chart_height(chart);
  return one_page(format_for(path), kWidth, height, chart.title, [&](Canvas& canvas) {
    draw_price_chart(canvas, {0.0, 0.0, kWidth, height}, chart);
  });
}

}  // namespace dryfit::cli
