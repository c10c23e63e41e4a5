#include "cli/command_fit.hpp"

#include <fmt/ostream.h>

#include <CLI/App.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_code.hpp"
#include "cli/fit_report.hpp"
#include "cli/frame_file.hpp"
#include "cli/words.hpp"
#include "planner/drill.hpp"

namespace dryfit::cli {
namespace {

struct Options {
  std::string frame;
  std::string units;
  bool json = false;
};

Json holes_json(const model::Frame& frame, const std::vector<planner::DrillSheet>& sheets) {
  Json list = Json::array();
  for (const planner::DrillSheet& sheet : sheets) {
    for (const planner::DrillHole& hole : sheet.holes) {
      list.push_back({{"board", frame.parts[static_cast<std::size_t>(sheet.board)].id},
                      {"pipe", frame.parts[static_cast<std::size_t>(hole.pipe)].id},
                      {"hole_mm", rounded(hole.hole)},
                      {"pipe_mm", rounded(hole.pipe_od)},
                      {"clearance_mm", rounded(hole.clearance)},
                      {"carrier_mm", hole.carrier == model::kNone ? Json(nullptr) : Json(rounded(hole.carrier_od))},
                      {"bearing_mm", hole.carrier == model::kNone ? Json(nullptr) : Json(rounded(hole.bearing))}});
    }
  }
  return list;
}

void print_json(const model::Frame& frame, const planner::Fit& fit, const std::vector<planner::DrillSheet>& sheets,
                std::ostream& out) {
  Json document = envelope("fit", frame, planner::word_for(fit.state));
  document["turns"] = turns_json(frame, fit.turns);
  document["proven"] = fit.proven;
  document["from_memory"] = fit.from_memory;
  document["closures"] = closures_json(frame, fit);
  document["levels"] = levels_json(frame, fit);
  document["holes"] = holes_json(frame, sheets);
  print(out, document);
}

void print_text(const model::Frame& frame, const planner::Fit& fit, const std::vector<planner::DrillSheet>& sheets,
                const Lengths& lengths, std::ostream& out) {
  const char* said = fit.state == planner::FitState::open ? "does NOT close" : "closes";
  if (fit.closures.empty()) {
    fmt::print(out, "{}: nothing in it has to meet, so everything fits.\n", frame.name);
  } else {
    fmt::print(out, "{}: {} {}.\n", frame.name, said,
               fit.state == planner::FitState::open ? "as drawn" : state_in_words(fit.state));
    long long exact = 0;
    for (const planner::ClosureFit& closure : fit.closures) {
      if (closure.state == planner::FitState::exact) {
        ++exact;
      } else {
        out << closure_text(frame, closure, lengths);
      }
    }
    if (exact > 0) fmt::print(out, "  {} exact as made up.\n", counted(exact, "closure is", "closures are"));
  }
  if (!fit.turns.empty()) {
    fmt::print(out, "Turns for the whole frame: {}.\n", wrapped(turns_text(frame, fit.turns), 2));
  }
  if (!fit.levels.empty()) out << "Level:\n";
  for (const planner::LevelFit& level : fit.levels) out << level_text(frame, level, lengths);
  bool headed = false;
  for (const planner::DrillSheet& sheet : sheets) {
    for (const planner::DrillHole& hole : sheet.holes) {
      if (!headed) out << "Holes:\n";
      headed = true;
      fmt::print(out, "  {} for {}: {} wide, pipe {}, clearance {}", name_of(frame, sheet.board),
                 name_of(frame, hole.pipe), hole.bit.empty() ? lengths(hole.hole) : hole.bit,
                 lengths.fine(hole.pipe_od), lengths.fine(hole.clearance));
      if (hole.carrier != model::kNone) {
        fmt::print(out, "; lies on {} with a ring of {}", name_of(frame, hole.carrier), lengths.fine(hole.bearing));
      }
      out << ".\n";
    }
  }
  if (fit.from_memory) {
    out << "Some of these numbers rest on table rows that no published source confirms: measure your fittings and\n"
           "give what you find as `measured`.\n";
  }
}

int tell_fit(const Options& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(options.frame, streams);
  const planner::Fit fit = planner::find_fit(loaded.frame);
  const auto sheets = planner::drill_sheets(loaded.frame, fit);
  if (options.json) {
    print_json(loaded.frame, fit, sheets, streams.out);
  } else {
    print_text(loaded.frame, fit, sheets, Lengths(options.units, loaded.frame.units), streams.out);
  }
  return fit.state == planner::FitState::open ? kNo : kYes;
}

}  // namespace

Job set_up_fit(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  app.add_option("FRAME", options->frame, "the frame file; - for standard input")->required();
  app.add_flag("--json", options->json, "one JSON document instead of text");
  add_units_option(app, options->units);
  return [options](const Streams& streams) { return tell_fit(*options, streams); };
}

}  // namespace dryfit::cli
