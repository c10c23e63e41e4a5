#include "cli/check/command_check.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/check/cure_report.hpp"
#include "cli/check/evidence.hpp"
#include "cli/check/finding.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/check/headline.hpp"
#include "cli/check/hole_report.hpp"
#include "cli/check/margin_report.hpp"
#include "cli/check/size_report.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/log.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/sentences/frame_notes.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "cli/words/told.hpp"
#include "cli/words/words.hpp"
#include "model/frame/input_error.hpp"
#include "planner/shop/drill.hpp"

namespace dryfit::cli {
namespace {

struct CheckCall {
  std::vector<std::string> frames;
  bool json = false;
};

void print_json(const std::string& file, const LoadedFrame& loaded, const Finding& finding, std::ostream& out) {
  Json document = envelope("check", loaded.frame, word_for(verdict_of(finding)));
  document["file"] = file;
  document["parts"] = loaded.frame.parts.size();
  document["contacts"] = loaded.contacts.contacts.size();
  add_size(document, loaded.frame);
  if (finding.verdict == Verdict::buildable) document["steps_at_most"] = finding.order.steps.size();
  document["fit"] = planner::word_for(finding.fit.state);
  document["closures"] = closures_json(loaded.frame, finding.fit);
  add_closing(document, loaded.frame, finding.fit, finding.closing);
  document["levels"] = levels_json(loaded.frame, finding.fit);
  Json boards = Json::array();
  for (const planner::DrillSheet& sheet : planner::drill_sheets(loaded.frame, finding.fit)) {
    boards.push_back({{"board", loaded.frame.part(sheet.board).id},
                      {"drop", planner::word_for(sheet.drop)},
                      {"warnings", told(sheet.warnings, loaded.frame.units)}});
  }
  document["boards"] = std::move(boards);
  add_evidence(document, finding, loaded.frame, loaded.contacts);
  if (finding.no_way_in) {
    document["no_way_in"] = {{"headroom_missing_mm", rounded(*finding.no_way_in)},
                             {"text", no_way_in_text(loaded.frame, *finding.no_way_in)}};
  }
  if (!finding.drops.empty()) document["drops"] = part_ids(loaded.frame, finding.drops);
  add_margin(document, finding, loaded.frame, loaded.contacts);
  print_line(out, with_inches(document, lengths_asked()));
}

/// Boards that will not go on as drawn, or that need a look first.
void print_boards(const model::Frame& frame, const planner::Fit& fit, std::ostream& out) {
  const std::vector<planner::DrillSheet> sheets = planner::drill_sheets(frame, fit);
  out << drops_text(frame, sheets);
  for (const planner::DrillSheet& sheet : sheets) {
    const std::string name = name_of(frame, sheet.board);
    for (const std::string& warning : told(sheet.warnings, frame.units)) {
      fmt::print(out, "  {}: {}.\n", name, wrapped(warning, 4));
    }
    for (const planner::DrillHole& hole : sheet.holes) {
      for (const std::string& warning : told(hole.warnings, frame.units)) {
        fmt::print(out, "  {}\n", wrapped(say("{0}, hole for {1}: {2}.", name, name_of(frame, hole.pipe), warning), 4));
      }
    }
  }
}

void print_text(const LoadedFrame& loaded, const Finding& finding, std::ostream& out) {
  fmt::print(out, "{}\n", wrapped(headline(loaded.frame, finding), 2));
  out << size_text(loaded.frame);
  // What stands at the origin for want of a place is in the way of what belongs there: that explains all the rest.
  const bool guessed = loaded.frame.lone_run != model::kNone && finding.verdict == Verdict::overlapping;
  if (guessed) out << noted(lone_run_note(loaded.frame));
  out << evidence_text(finding, loaded.frame, loaded.contacts);
  if (finding.no_way_in) fmt::print(out, "  {}\n", wrapped(no_way_in_text(loaded.frame, *finding.no_way_in), 4));
  if (const std::string margin = margin_text(finding, loaded.frame, loaded.contacts); !margin.empty()) {
    out << noted(margin);
  }
  const Lengths lengths(loaded.frame.units);
  out << closures_text(loaded.frame, finding.fit, finding.closing, lengths);
  for (const planner::LevelFit& level : finding.fit.levels) {
    if (level.state != planner::FitState::exact) out << level_text(loaded.frame, level, lengths);
  }
  print_boards(loaded.frame, finding.fit, out);
  for (const std::string& remark : fit_remarks(loaded.frame, finding.fit)) {
    out << noted(remark);
  }
  for (const std::string& note : finding.notes) {
    if (!guessed || note != lone_run_note(loaded.frame)) out << noted(note);
  }
  if (finding.fit.from_memory && finding.overlaps.empty()) out << memory_footnote(loaded.frame);
}

int check_one(const std::string& file, const CheckCall& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(file, streams);
  Finding finding = [&] {
    const LongWork work(streams.working, marked("looking for what lines up"), marked("tried"), true);
    return find_out(loaded.frame, loaded.contacts, streams.working);
  }();
  look_for_cures(finding, loaded, streams.working);
  look_for_closing(finding, loaded, streams.working);
  look_for_margin(finding, loaded.frame, loaded.contacts);
  if (options.json) {
    print_json(file, loaded, finding, streams.out);
  } else {
    print_text(loaded, finding, streams.out);
  }
  return code_of(finding);
}

/// One file that cannot be used does not keep the others from being answered.
int check_all(const CheckCall& options, const Streams& streams) {
  if (std::count(options.frames.begin(), options.frames.end(), "-") > 1) {
    throw UsageError(say("standard input can be read only once"));
  }
  int code = kYes;
  bool first = true;
  for (const std::string& file : options.frames) {
    if (!first && !options.json) streams.out << '\n';
    try {
      code = worse(code, check_one(file, options, streams));
      first = false;
    } catch (const model::InputError& error) {
      streams.err << said(error) << '\n';
      code = kUnusable;
    } catch (const UsageError& error) {
      log_error(error.what());
      code = kUnusable;
    }
    if (!streams.out.flush()) return kUnusable;  // nobody reads any more; the caller says why
  }
  return code;
}

}  // namespace

Job set_up_check(OptionList& list) {
  const auto options = std::make_shared<CheckCall>();
  list.value("FRAME", options->frames, "frame files; - for standard input").required();
  list.flag("--json", options->json, "JSON instead of text, one document to a line");
  add_units_option(list);
  return [options](const Streams& streams) { return check_all(*options, streams); };
}

}  // namespace dryfit::cli
