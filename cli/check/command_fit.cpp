#include "cli/check/command_fit.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/check/hole_report.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/working.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "planner/cure/closure_cure.hpp"
#include "planner/shop/drill.hpp"

namespace dryfit::cli {
namespace {

struct FitCall {
  std::string frame;
  bool json = false;
};

void print_json(const model::Frame& frame, const planner::MendedFit& mended,
                const std::vector<planner::DrillSheet>& sheets, std::ostream& out) {
  const planner::Fit& fit = mended.fit;
  Json document = envelope("fit", frame, planner::word_for(fit.state));
  document["turns"] = turns_json(frame, fit.turns);
  document["proven"] = fit.proven;
  document["rechecked"] = fit.rechecked;
  document["from_memory"] = fit.from_memory;
  document["measure"] = measure_texts(frame);
  document["spare_leg"] =
      fit.spare_leg == model::kNone ? Json(nullptr) : Json(frame.part(fit.levels[at(fit.spare_leg)].part).id);
  document["closures"] = closures_json(frame, fit);
  add_closing(document, frame, fit, mended.cures);
  document["levels"] = levels_json(frame, fit);
  document["holes"] = holes_json(frame, sheets);
  print(out, with_inches(document, lengths_asked()));
}

void print_text(const model::Frame& frame, const planner::MendedFit& mended,
                const std::vector<planner::DrillSheet>& sheets, const Lengths& lengths, std::ostream& out) {
  const planner::Fit& fit = mended.fit;
  if (fit.closures.empty()) {
    fmt::print(out, "{}\n", say("{}: nothing in it has to meet, so everything fits.", frame.name));
  } else {
    fmt::print(out, "{}\n",
               fit.state == planner::FitState::open ? say("{}: does NOT close as drawn.", frame.name)
                                                    : say("{0}: {1}.", frame.name, closes_in_words(fit.state)));
    long long exact = 0;
    bool unsure = false;
    for (const planner::ClosureFit& closure : fit.closures) {
      if (closure.state != planner::FitState::exact) continue;
      ++exact;
      unsure = unsure || closure.from_memory;
    }
    out << closures_text(frame, fit, mended.cures, lengths);
    if (exact > 0)
      fmt::print(out, "  {}\n",
                 say_n(exact, "{0} closure is exact as made up{1}.", "{0} closures are exact as made up{1}.",
                       memory_mark(unsure)));
  }
  if (!fit.turns.empty()) {
    fmt::print(out, "{}.\n", wrapped(say("Turns for the whole frame: {}", turns_text(frame, fit.turns)), 2));
  }
  if (!fit.levels.empty()) out << say("Level:") << '\n';
  for (const planner::LevelFit& level : fit.levels) out << level_text(frame, level, lengths);
  if (!sheets.empty()) out << say("Holes:") << '\n';
  for (const planner::DrillSheet& sheet : sheets) out << holes_text(frame, sheet, lengths);
  for (const std::string& remark : fit_remarks(frame, fit)) fmt::print(out, "{}\n", wrapped(remark, 2));
  if (const std::string note = memory_footnote(frame); !note.empty()) fmt::print(out, "{}\n", wrapped(note, 2));
}

int tell_fit(const FitCall& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(options.frame, streams);
  planner::ClosureCureLimits limits;
  limits.foreman = streams.working;
  const planner::MendedFit mended = planner::fit_with_cures(loaded.frame, loaded.text, limits);
  const auto sheets = planner::drill_sheets(loaded.frame, mended.fit);
  if (options.json) {
    print_json(loaded.frame, mended, sheets, streams.out);
  } else {
    print_text(loaded.frame, mended, sheets, Lengths(loaded.frame.units), streams.out);
  }
  return mended.fit.state == planner::FitState::open ? kNo : kYes;
}

}  // namespace

Job set_up_fit(OptionList& list) {
  const auto options = std::make_shared<FitCall>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  list.flag("--json", options->json, "one JSON document instead of text");
  add_units_option(list);
  return [options](const Streams& streams) { return tell_fit(*options, streams); };
}

}  // namespace dryfit::cli
