#include "cli/command_show.hpp"

#include <fmt/ostream.h>
#include <spdlog/spdlog.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "cli/draw/step_picture.hpp"
#include "cli/exit_code.hpp"
#include "cli/finding.hpp"
#include "cli/frame_file.hpp"
#include "cli/json_answer.hpp"
#include "cli/lengths.hpp"
#include "cli/order_plan.hpp"
#include "cli/say.hpp"
#include "cli/step_text.hpp"
#include "cli/usage_error.hpp"
#include "cli/words.hpp"

namespace dryfit::cli {
namespace {

struct Options {
  std::string frame;
  std::string file;
  int step = 0;
  std::vector<std::string> only;
  std::vector<double> view;
  double width = 180.0;
  double height = 0.0;
  bool no_labels = false;
  bool json = false;
};

/// "36 in wide, 11-1/4 in deep, 62 in high".
std::string overall(const model::Frame& frame) {
  model::Bounds all{{1e300, 1e300, 1e300}, {-1e300, -1e300, -1e300}};
  for (const model::Part& part : frame.parts) {
    for (const model::Solid& solid : part.solids) {
      const model::Bounds bounds = model::bounds_of(solid);
      for (int axis = 0; axis < 3; ++axis) {
        all.lo[axis] = std::min(all.lo[axis], bounds.lo[axis]);
        all.hi[axis] = std::max(all.hi[axis], bounds.hi[axis]);
      }
    }
  }
  const model::Vec3 size = all.hi - all.lo;
  return say("{0} wide, {1} deep, {2} high over all", length_text(size.x, frame.units),
             length_text(size.y, frame.units), length_text(size.z, frame.units));
}

PictureOptions whole_picture(const LoadedFrame& loaded, const Options& options) {
  PictureOptions picture;
  picture.title = loaded.frame.name;
  picture.caption = overall(loaded.frame);
  for (const std::string& id : options.only) {
    bool found = false;
    for (std::size_t i = 0; i < loaded.frame.parts.size(); ++i) {
      const model::Part& part = loaded.frame.parts[i];
      if (part.id != id && part.label != id) continue;
      picture.shown.push_back(static_cast<model::PartId>(i));
      found = true;
    }
    if (!found) throw UsageError(fmt::format("--only: there is no part '{0}' in {1}", id, loaded.frame.name));
  }
  if (!options.only.empty()) picture.caption.clear();
  return picture;
}

int show(const Options& options, const Streams& streams) {
  static_cast<void>(format_for(options.file));  // a wrong ending is told before any work
  const LoadedFrame loaded = load_frame(options.frame, streams);
  PictureOptions picture;
  if (options.step > 0) {
    Finding finding = find_out(loaded.frame, loaded.contacts);
    if (finding.verdict != "buildable") {
      streams.out << evidence_text(finding, loaded.frame, loaded.contacts);
      spdlog::error("{} has no build order, so no step can be shown; leave out --step", loaded.frame.name);
      return finding.code;
    }
    // The same steps as `dryfit order` prints when it is asked for nothing special.
    const OrderPlan plan = plan_order(loaded.frame, loaded.contacts, std::move(finding.order), {});
    const auto& steps = plan.best.order.steps;
    // A number beyond the last is told by step_picture.
    const bool upright = static_cast<std::size_t>(options.step) <= steps.size() &&
                         stands_at(plan, static_cast<std::size_t>(options.step) - 1);
    picture = step_picture(loaded.frame, loaded.contacts, steps, options.step, upright);
    picture.title = say("{0}: step {1} of {2}", loaded.frame.name, options.step, steps.size());
    picture.caption = words_for(loaded.frame, loaded.contacts, steps)[static_cast<std::size_t>(options.step) - 1].text;
  } else {
    picture = whole_picture(loaded, options);
  }
  if (!options.view.empty()) picture.view = View{options.view[0], options.view[1]};
  picture.width_mm = options.width;
  picture.height_mm = options.height;
  picture.labels = !options.no_labels;
  const PictureReport report = write_picture(options.file, loaded.frame, picture);
  if (options.json) {
    Json document = envelope("show", loaded.frame, "drawn");
    document["file"] = options.file;
    document["step"] = options.step > 0 ? Json(options.step) : Json(nullptr);
    document["view"] = {{"azimuth_deg", report.view.azimuth_deg}, {"elevation_deg", report.view.elevation_deg}};
    document["turned"] = report.turned;
    document["labels"] = report.texts;
    document["hidden"] = report.hidden;
    document["no_room"] = report.left_out;
    print(streams.out, document);
    return kYes;
  }
  streams.out << say("{0}: {1}, seen {2}", options.file, loaded.frame.name, describe(report.view)) << '\n';
  if (report.turned) streams.out << say("The view is turned so that what moves is seen.") << '\n';
  if (!report.hidden.empty()) streams.out << say("Hidden from there: {}", wrapped(listed(report.hidden), 2)) << '\n';
  if (!report.left_out.empty()) {
    streams.out << say("No room for the labels of {}; try a larger --width.", wrapped(listed(report.left_out), 2))
                << '\n';
  }
  return kYes;
}

}  // namespace

Job set_up_show(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  app.add_option("FRAME", options->frame, "the frame file; - for standard input")->required();
  app.add_option("-o,--output", options->file, "the picture: a name that ends in .svg, .pdf or .png")->required();
  auto* step = app.add_option("--step", options->step, "as of this step of `dryfit order`, with what moves in it");
  step->check(CLI::PositiveNumber);
  app.add_option("--only", options->only, "these parts alone")->delimiter(',')->excludes(step);
  app.add_option("--view", options->view, "degrees round from the front to the right, and degrees up: 28,24")
      ->delimiter(',')
      ->expected(2)
      ->check(CLI::Range(-360.0, 360.0));
  app.add_option("--width", options->width, "width of the page in mm")
      ->check(CLI::Range(40.0, 2000.0))
      ->capture_default_str();
  app.add_option("--height", options->height, "height of the page in mm; as needed when not given")
      ->check(CLI::Range(40.0, 3000.0));
  add_units_option(app);
  app.add_flag("--no-labels", options->no_labels, "without the part labels");
  app.add_flag("--json", options->json, "say as one JSON document what was drawn");
  return [options](const Streams& streams) { return show(*options, streams); };
}

}  // namespace dryfit::cli
