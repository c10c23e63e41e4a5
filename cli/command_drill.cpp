#include "cli/command_drill.hpp"

#include <fmt/ostream.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/atomic_file.hpp"
#include "cli/draw/board_sheet.hpp"
#include "cli/exit_code.hpp"
#include "cli/frame_file.hpp"
#include "cli/json_answer.hpp"
#include "cli/lengths.hpp"
#include "cli/usage_error.hpp"
#include "cli/words.hpp"
#include "planner/drill.hpp"

namespace dryfit::cli {
namespace {

struct Options {
  std::string frame;
  std::string units;
  std::string file;
  std::string paper;
  bool full_size = false;
  bool json = false;
};

PaperSize paper_for(const Options& options, model::Units units) {
  if (options.paper.empty()) return units == model::Units::in ? PaperSize::letter : PaperSize::a4;
  return options.paper == "letter" ? PaperSize::letter : PaperSize::a4;
}

model::Units sheet_units(const Options& options, model::Units units) {
  if (options.units == "mm") return model::Units::mm;
  return options.units == "in" || options.units == "both" ? model::Units::in : units;
}

/// The paper is made in memory first: nothing is written when anything about it is wrong.
void write_paper(const Options& options, const model::Frame& frame, const std::vector<planner::DrillSheet>& sheets) {
  if (format_for(options.file) != PictureFormat::pdf) {
    throw UsageError(fmt::format("'{}': drilling sheets have several pages, so their name ends in .pdf", options.file));
  }
  write_file(options.file, drill_pdf(frame, sheets, sheet_units(options, frame.units), paper_for(options, frame.units),
                                     options.full_size));
}

const std::string& id_of(const model::Frame& frame, model::PartId part) {
  return frame.parts[static_cast<std::size_t>(part)].id;
}

Json hole_json(const model::Frame& frame, const planner::DrillSheet& sheet, const planner::DrillHole& hole) {
  return {{"pipe", id_of(frame, hole.pipe)},
          {"kind", hole.notch ? "notch" : "hole"},
          {"open", hole.notch ? Json(hole.open.name()) : Json(nullptr)},
          {"from_" + sheet.low_edges[0] + "_mm", rounded(hole.from_low[0])},
          {"from_" + sheet.high_edges[0] + "_mm", rounded(hole.from_high[0])},
          {"from_" + sheet.low_edges[1] + "_mm", rounded(hole.from_low[1])},
          {"from_" + sheet.high_edges[1] + "_mm", rounded(hole.from_high[1])},
          {"hole_mm", rounded(hole.hole)},
          {"bit", hole.bit.empty() ? Json(nullptr) : Json(hole.bit)},
          {"pipe_mm", rounded(hole.pipe_od)},
          {"clearance_mm", rounded(hole.clearance)},
          {"carrier", hole.carrier == model::kNone ? Json(nullptr) : Json(id_of(frame, hole.carrier))},
          {"bearing_mm", hole.carrier == model::kNone ? Json(nullptr) : Json(rounded(hole.bearing))},
          {"to_edge_mm", rounded(hole.to_edge)},
          {"to_hole_mm", rounded(hole.to_hole)},
          {"warnings", hole.warnings}};
}

Json sheet_json(const model::Frame& frame, const planner::DrillSheet& sheet) {
  Json holes = Json::array();
  for (const planner::DrillHole& hole : sheet.holes) holes.push_back(hole_json(frame, sheet, hole));
  Json pairs = Json::array();
  for (const planner::DrillPair& pair : sheet.pairs) {
    const auto pipe = [&](int hole) { return id_of(frame, sheet.holes[static_cast<std::size_t>(hole)].pipe); };
    pairs.push_back({{"between", {pipe(pair.first), pipe(pair.second)}},
                     {"spacing_mm", rounded(pair.spacing)},
                     {"posts_mm", rounded(pair.posts)},
                     {"slack_mm", rounded(pair.slack)},
                     {"worst_mm", rounded(pair.spread.worst)},
                     {"likely_mm", rounded(pair.spread.likely)},
                     {"drop", planner::word_for(pair.drop)}});
  }
  return {{"board", id_of(frame, sheet.board)},
          {"size_mm", {rounded(sheet.size[0]), rounded(sheet.size[1]), rounded(sheet.thickness)}},
          {"drop", planner::word_for(sheet.drop)},
          {"lean_mm_per_m", rounded(sheet.lean)},
          {"holes", std::move(holes)},
          {"pairs", std::move(pairs)},
          {"warnings", sheet.warnings}};
}

void print_sheet(const model::Frame& frame, const planner::DrillSheet& sheet, const Lengths& lengths,
                 std::ostream& out) {
  fmt::print(out, "\n{}: {} by {}, {} thick\n", name_of(frame, sheet.board), lengths(sheet.size[0]),
             lengths(sheet.size[1]), lengths(sheet.thickness));
  for (const planner::DrillHole& hole : sheet.holes) {
    std::string text = fmt::format("{} for {}: {} from the {} edge, {} from the {} edge; ",
                                   hole.notch ? "slot" : "hole", name_of(frame, hole.pipe), lengths(hole.from_low[0]),
                                   sheet.low_edges[0], lengths(hole.from_low[1]), sheet.low_edges[1]);
    text += hole.bit.empty() ? fmt::format("{} wide, for which there is no stock bit", lengths(hole.hole))
                             : fmt::format("bit {}", hole.bit);
    if (hole.notch) text += fmt::format(", sawn out to the {} edge", side(hole.open));
    text += fmt::format("; clearance {}", lengths.fine(hole.clearance));
    if (hole.carrier != model::kNone) {
      text += fmt::format(", ring of {} on {}", lengths.fine(hole.bearing), name_of(frame, hole.carrier));
    }
    fmt::print(out, "  {}.\n", wrapped(text, 4));
    for (const std::string& warning : hole.warnings) fmt::print(out, "    ! {}\n", wrapped(warning, 6));
  }
  for (const planner::DrillPair& pair : sheet.pairs) {
    const auto pipe = [&](int hole) { return name_of(frame, sheet.holes[static_cast<std::size_t>(hole)].pipe); };
    const char* verdict = pair.drop == planner::Drop::free            ? "drops on freely"
                          : pair.drop == planner::Drop::measure_first ? "measure the posts before you drill"
                                                                      : "BINDS";
    fmt::print(out, "  {}\n",
               wrapped(fmt::format("{} to {}: holes {} apart, posts {}; slack {}, threads may stray {}: {}.",
                                   pipe(pair.first), pipe(pair.second), lengths(pair.spacing), lengths(pair.posts),
                                   lengths.fine(pair.slack), lengths.fine(pair.spread.worst), verdict),
                       4));
  }
  for (const std::string& warning : sheet.warnings) fmt::print(out, "  ! {}\n", wrapped(warning, 4));
}

int tell_holes(const Options& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(options.frame, streams);
  const auto sheets = planner::drill_sheets(loaded.frame, planner::find_fit(loaded.frame));
  if (!options.file.empty()) write_paper(options, loaded.frame, sheets);
  planner::Drop worst = planner::Drop::free;
  for (const planner::DrillSheet& sheet : sheets) worst = std::max(worst, sheet.drop);
  if (options.json) {
    Json document = envelope("drill", loaded.frame, planner::word_for(worst));
    Json boards = Json::array();
    for (const planner::DrillSheet& sheet : sheets) boards.push_back(sheet_json(loaded.frame, sheet));
    document["boards"] = std::move(boards);
    print(streams.out, document);
  } else {
    fmt::print(streams.out, "{}: {} to drill\n", loaded.frame.name,
               sheets.empty() ? "no board" : counted(static_cast<long long>(sheets.size()), "board"));
    const Lengths lengths(options.units, loaded.frame.units);
    for (const planner::DrillSheet& sheet : sheets) print_sheet(loaded.frame, sheet, lengths, streams.out);
    if (!sheets.empty()) {
      streams.out << "\nClamp the board on scrap wood, drill to the mark, eye protection on.\n";
    }
  }
  return worst == planner::Drop::binds ? kNo : kYes;
}

}  // namespace

Job set_up_drill(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  app.add_option("FRAME", options->frame, "the frame file; - for standard input")->required();
  auto* file = app.add_option("-o,--output", options->file, "also write a PDF: per board a sheet with every hole");
  app.add_flag("--full-size", options->full_size, "with paper templates of the boards' own size")->needs(file);
  app.add_option("--paper", options->paper, "a4 or letter; by the frame's units when not given")
      ->check(CLI::IsMember({"a4", "letter"}))
      ->needs(file);
  app.add_flag("--json", options->json, "one JSON document instead of text");
  add_units_option(app, options->units);
  return [options](const Streams& streams) { return tell_holes(*options, streams); };
}

}  // namespace dryfit::cli
