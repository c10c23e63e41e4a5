#include "cli/shop/command_drill.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/check/hole_report.hpp"
#include "cli/check/measured_spacings.hpp"
#include "cli/draw/sheet/board_sheet.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "planner/shop/drill.hpp"

namespace dryfit::cli {
namespace {

struct DrillCall {
  std::string frame;
  std::string file;
  std::string paper;
  std::vector<std::string> measured;
  bool full_size = false;
  bool json = false;
};

PaperSize paper_for(const DrillCall& options, model::Units units) {
  if (options.paper.empty()) return units == model::Units::in ? PaperSize::letter : PaperSize::a4;
  return options.paper == "letter" ? PaperSize::letter : PaperSize::a4;
}

model::Units sheet_units(model::Units units) {
  const std::string& asked = lengths_asked();
  if (asked == "mm") return model::Units::mm;
  return asked == "in" || asked == "both" ? model::Units::in : units;
}

/// The paper is made in memory first: nothing is written when anything about it is wrong. The files; none when there is
/// nothing to drill.
std::vector<std::string> write_paper(const DrillCall& options, const model::Frame& frame,
                                     const std::vector<planner::DrillSheet>& sheets) {
  const PictureFormat format = paper_format_for(options.file);
  if (std::all_of(sheets.begin(), sheets.end(), [](const auto& sheet) { return sheet.holes.empty(); })) return {};
  return write_documents(options.file, drill_pages(frame, sheets, sheet_units(frame.units),
                                                   {paper_for(options, frame.units), options.full_size, format}));
}

bool rests_on_memory(const planner::DrillSheet& sheet) {
  return std::any_of(sheet.holes.begin(), sheet.holes.end(), [](const planner::DrillHole& hole) {
    return hole.place_from_memory || hole.pipe_from_memory || hole.carrier_from_memory;
  });
}

int tell_holes(const DrillCall& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(options.frame, streams);
  auto sheets = planner::drill_sheets(loaded.frame, planner::find_fit(loaded.frame));
  take_measured(loaded.frame, options.measured, sheets);
  std::vector<std::string> files;
  if (!options.file.empty()) files = write_paper(options, loaded.frame, sheets);
  const bool written = !files.empty();
  planner::Drop worst = planner::Drop::free;
  for (const planner::DrillSheet& sheet : sheets) worst = std::max(worst, sheet.drop);
  if (options.json) {
    Json document = envelope("drill", loaded.frame, planner::word_for(worst));
    Json boards = Json::array();
    for (const planner::DrillSheet& sheet : sheets) boards.push_back(sheet_json(loaded.frame, sheet));
    document["boards"] = std::move(boards);
    if (!options.file.empty()) {
      document["file"] = written ? Json(options.file) : Json(nullptr);
      document["files"] = files;
    }
    print(streams.out, with_inches(document, lengths_asked()));
  } else {
    const auto drilled = std::count_if(sheets.begin(), sheets.end(), [](const auto& s) { return !s.holes.empty(); });
    streams.out << (drilled == 0
                        ? say("{}: no board to drill", loaded.frame.name)
                        : say_n(drilled, "{1}: {0} board to drill", "{1}: {0} boards to drill", loaded.frame.name))
                << '\n';
    const Lengths lengths(loaded.frame.units);
    bool unsure = false;
    for (const planner::DrillSheet& sheet : sheets) {
      streams.out << '\n' << sheet_text(loaded.frame, sheet, lengths);
      unsure = unsure || rests_on_memory(sheet);
    }
    if (!sheets.empty()) {
      streams.out << '\n' << say("Clamp the board on scrap wood. Wear eye protection and a dust mask.") << '\n';
    }
    if (unsure) streams.out << memory_footnote(loaded.frame);
    if (!options.file.empty() && !written)
      streams.out << say("{} is not written: it would be empty.", options.file) << '\n';
  }
  return worst == planner::Drop::binds || (!options.file.empty() && !written) ? kNo : kYes;
}

}  // namespace

Job set_up_drill(OptionList& list) {
  const auto options = std::make_shared<DrillCall>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  const Option& file =
      list.value("-o,--output", options->file,
                 "also write a PDF, or with .svg a picture of each page: per board a sheet with every hole");
  list.flag("--full-size", options->full_size, "with paper templates of the boards' own size").needs(file);
  list.value("--measured", options->measured, kMeasuredHelp);
  list.value("--paper", options->paper, "a4 or letter; by the frame's units when not given")
      .one_of({"a4", "letter"})
      .needs(file);
  list.flag("--json", options->json, "one JSON document instead of text");
  add_units_option(list);
  return [options](const Streams& streams) { return tell_holes(*options, streams); };
}

}  // namespace dryfit::cli
