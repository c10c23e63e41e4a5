#include "cli/show/shown_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

#include "cli/draw/picture/step_picture.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/order/plan_order.hpp"
#include "cli/sentences/step_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"
#include "model/measure/over_all.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {
namespace {

/// Width, depth and height of the frame, mm.
model::Vec3 size_of(const model::Frame& frame) {
  const model::Bounds all = model::over_all(frame);
  return all.hi - all.lo;
}

PictureOptions whole(const ShowOptions& options, const model::Frame& frame) {
  PictureOptions picture;
  picture.title = frame.name;
  const Lengths lengths(frame.units);
  const model::Vec3 size = size_of(frame);
  picture.caption = say("{0} wide, {1} deep, {2} high over all", lengths(size.x), lengths(size.y), lengths(size.z));
  for (const std::string& id : options.only) {
    bool found = false;
    for (std::size_t i = 0; i < frame.parts.size(); ++i) {
      const model::Part& part = frame.parts[i];
      if (part.id != id && part.label != id) continue;
      picture.shown.push_back(static_cast<model::PartId>(i));
      found = true;
    }
    if (found) continue;
    std::vector<std::string> known;
    known.reserve(frame.parts.size());
    for (const model::Part& part : frame.parts) known.push_back(part.label);
    const auto near = model::nearest_word(id, known);
    throw UsageError(say("--only: there is no part '{}' in {}{}", id, frame.name,
                         near ? say("; did you mean '{}'?", *near) : std::string()));
  }
  if (!options.only.empty()) picture.caption.clear();
  return picture;
}

PictureOptions of_step(const ShowOptions& options, const LoadedFrame& loaded, Finding& finding, Working* working) {
  // The same steps as `dryfit order` prints when it is asked for nothing special.
  OrderOptions wanted;
  wanted.working = working;
  const OrderPlan plan = plan_order(loaded.frame, loaded.contacts, std::move(finding.order), wanted);
  const auto& steps = plan.best.order.steps;
  // A number beyond the last is told by step_picture.
  const bool upright = at(options.step) <= steps.size() && stands_at(plan, at(options.step) - 1);
  const std::vector<model::Attitude> lies = lies_at_steps(plan);
  HowItStands how;
  how.on_floor = upright;
  const std::vector<StepWords> words = words_for(loaded.frame, loaded.contacts, steps, lies);
  if (at(options.step) <= lies.size()) {
    const StepWords& now = words[at(options.step) - 1];
    how = {upright, lies[at(options.step) - 1], !stands_alone(plan, at(options.step) - 1), now.hands, now.steadied,
           now.tied};
  }
  PictureOptions picture = step_picture(loaded.frame, loaded.contacts, steps, options.step, how);
  picture.title = say("{0}: step {1} of {2}", loaded.frame.name, options.step, steps.size());
  picture.caption = words[at(options.step) - 1].text;
  return picture;
}

}  // namespace

PictureOptions shown_picture(const ShowOptions& options, const LoadedFrame& loaded, Finding& finding,
                             Working* working) {
  PictureOptions picture = options.step > 0 ? of_step(options, loaded, finding, working) : whole(options, loaded.frame);
  if (!options.view.empty()) picture.view = View{options.view[0], options.view[1]};
  picture.width_mm = options.width;
  picture.height_mm = options.height;
  picture.text_mm = options.text;
  picture.labels = !options.no_labels;
  if (options.no_title) {
    picture.title.clear();
    picture.caption.clear();
  }
  return picture;
}

void add_drawn(Json& document, const ShowOptions& options, const model::Frame& frame, const PictureReport& report) {
  document["step"] = options.step > 0 ? Json(options.step) : Json(nullptr);
  document["view"] = {{"azimuth_deg", report.view.azimuth_deg}, {"elevation_deg", report.view.elevation_deg}};
  document["turned"] = report.turned;
  document["labels"] = report.texts;
  document["hidden"] = report.hidden;
  document["no_room"] = report.left_out;
  const model::Vec3 size = size_of(frame);
  document["over_all_mm"] = {rounded(size.x), rounded(size.y), rounded(size.z)};
}

}  // namespace dryfit::cli
