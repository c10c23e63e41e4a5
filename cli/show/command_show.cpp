#include "cli/show/command_show.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <cctype>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/check/evidence.hpp"
#include "cli/draw/body/frame_numbers.hpp"
#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/log.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/show/show_watch.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

/// A name that asks for numbers instead of a picture.
bool is_for_program(const std::string& file) {
  std::string ending = file.substr(std::min(file.size(), file.rfind('.')));
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); });
  return ending == ".json";
}

/// The frame as numbers; it is not asked whether it fits or can be built.
int give_numbers(const ShowOptions& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(options.frame, streams);
  write_file(options.file, frame_numbers(loaded.frame, loaded.contacts).dump(1) + "\n");
  if (options.json) {
    Json document = envelope("show", loaded.frame, "drawn");
    document["file"] = options.file;
    print(streams.out, document);
  } else {
    streams.out << say("{0}: {1} as numbers", options.file, loaded.frame.name) << '\n';
  }
  return kYes;
}

int show(const ShowOptions& options, const Streams& streams) {
  if (is_for_program(options.file)) return give_numbers(options, streams);
  static_cast<void>(format_for(options.file));  // a wrong ending is told before any work
  const LoadedFrame loaded = load_frame(options.frame, streams);
  Finding finding;
  if (options.step > 0) {
    finding = find_out(loaded.frame, loaded.contacts);
    if (finding.verdict != Verdict::buildable && options.json) {
      Json document = envelope("show", loaded.frame, word_for(finding.verdict));
      document["file"] = options.file;
      document["drawn"] = false;
      add_evidence(document, finding, loaded.frame, loaded.contacts);
      print(streams.out, with_inches(document, lengths_asked()));
      return finding.code;
    }
    if (finding.verdict != Verdict::buildable) {
      streams.out << evidence_text(finding, loaded.frame, loaded.contacts);
      log_error(say("{} has no build order, so no step can be shown; leave out --step", loaded.frame.name));
      return finding.code;
    }
  }
  const PictureOptions picture = shown_picture(options, loaded, finding, streams.working);
  const PictureReport report = write_picture(options.file, loaded.frame, picture);
  if (options.json) {
    Json document = envelope("show", loaded.frame, "drawn");
    document["file"] = options.file;
    add_drawn(document, options, loaded.frame, report);
    print(streams.out, with_inches(document, lengths_asked()));
    return kYes;
  }
  streams.out << say("{0}: {1}, seen {2}", options.file, loaded.frame.name, describe(report.view)) << '\n';
  if (report.turned) streams.out << say("The view is turned so that what moves is seen.") << '\n';
  if (!report.hidden.empty()) streams.out << wrapped(say("Hidden in this view: {}", listed(report.hidden)), 2) << '\n';
  if (!report.left_out.empty()) {
    streams.out << wrapped(say("No room for the labels of {}; try a larger --width.", listed(report.left_out)), 2)
                << '\n';
  }
  return kYes;
}

}  // namespace

Job set_up_show(OptionList& list) {
  const auto options = std::make_shared<ShowOptions>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  list.value(
          "-o,--output", options->file,
          "the picture: a name that ends in .svg, .pdf or .png; with --watch also .html; .json for the frame as numbers")
      .required();
  Option& step =
      list.value("--step", options->step, "the assembly at this step of `dryfit order`, with what moves in it");
  step.positive();
  list.value("--only", options->only, "only these parts").list().excludes(step);
  list.value("--view", options->view, "degrees round from the front to the right, and degrees up: 28,24")
      .list(2)
      .range(-360.0, 360.0);
  list.value("--width", options->width, "width of the page in mm").range(40.0, 2000.0).show_default();
  list.value("--height", options->height, "height of the page in mm; as needed when not given").range(40.0, 3000.0);
  list.value("--text", options->text, "size of the labels in mm; by the width when not given").range(1.0, 20.0);
  list.flag("--no-title", options->no_title, "without title and caption");
  list.flag("--no-labels", options->no_labels, "without the part labels");
  list.flag("--watch", options->watch, "check and draw again whenever the frame file is saved, until Ctrl-C");
  list.flag("--json", options->json, "say as one JSON document what was drawn; with --watch one to a line");
  add_units_option(list);
  return [options](const Streams& streams) {
    return options->watch ? watch_frame(*options, streams) : show(*options, streams);
  };
}

}  // namespace dryfit::cli
