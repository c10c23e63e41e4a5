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
  Json document = envelope("fit", frame, fit.decided ? planner::word_for(fit.state) : "undecided");
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
                const std::vector<planner::DrillSheet>& sheets, bool ended, std::ostream& out) {
  const Lengths lengths(frame.units);
  const planner::Fit& fit = mended.fit;
  if (fit.closures.empty()) {
    fmt::print(out, "{}\n", say("{}: nothing has to line up, so it fits.", frame.name));
  } else {
    const auto exact = std::count_if(fit.closures.begin(), fit.closures.end(), [](const planner::ClosureFit& closure) {
      return closure.state == planner::FitState::exact;
    });
    const char* mark = memory_mark(fit.from_memory);
    fmt::print(out, "{}\n",
               !fit.decided                           ? say("{}: whether it lines up wasn't found out.", frame.name)
               : fit.state == planner::FitState::open ? say("{}: does NOT line up as drawn.", frame.name)
               : fit.state == planner::FitState::exact
                   ? say("{0}: everything lines up exactly{1}.", frame.name, mark)
                   : say("{0}: {1}{2}.", frame.name, closes_in_words(fit.state), mark));
    out << closures_text(frame, fit, mended.cures, lengths);
    if (exact > 0 && fit.state != planner::FitState::exact) {
      fmt::print(
          out, "  {}\n",
          say_n(exact, "{0} other place lines up exactly as drawn.", "{0} other places line up exactly as drawn."));
    }
  }
  if (!fit.turns.empty()) {
    fmt::print(out, "  {}.\n",
               wrapped(say("To make the whole frame line up, turn {}", turns_text(frame, fit.turns)), 4));
  }
  const std::string more =
      levels_text(frame, fit.levels, lengths) + holes_text(frame, sheets, lengths) + drops_text(frame, sheets);
  out << more;
  for (const std::string& remark : fit_remarks(frame, fit)) fmt::print(out, "  {}\n", wrapped(remark, 4));
  if (ended && fit.state == planner::FitState::open) {
    fmt::print(out, "  {}\n", say("Interrupted: not every cure has been tried."));
  }
  // The note to a star that was not put would make a reader look for it.
  const bool starred = fit.from_memory || more.find('*') != std::string::npos;
  if (starred) out << memory_footnote(frame);
}

int tell_fit(const FitCall& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(options.frame, streams);
  planner::ClosureCureLimits limits;
  limits.foreman = streams.working;
  const planner::MendedFit mended = [&] {
    const LongWork work(streams.working, marked("looking for what lines up"), marked("tried"), true);
    return planner::fit_with_cures(loaded.frame, loaded.text, limits);
  }();
  const auto sheets = planner::drill_sheets(loaded.frame, mended.fit);
  if (options.json) {
    print_json(loaded.frame, mended, sheets, streams.out);
  } else {
    const bool ended = streams.working != nullptr && streams.working->interrupted();
    print_text(loaded.frame, mended, sheets, ended, streams.out);
  }
  if (!mended.fit.decided) return kUndecided;
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
