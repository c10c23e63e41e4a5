#include "cli/check/as_built.hpp"

#include <algorithm>

#include "model/geometry/convex.hpp"
#include "planner/effort/tilt.hpp"

namespace dryfit::cli {

namespace {

bool builds_as_drawn(const LoadedFrame& loaded) { return planner::find_order(loaded.frame, loaded.contacts).buildable; }

/// `loaded` cannot be built as drawn.
LoadedFrame turned_if_that_helps(const LoadedFrame& loaded, const Finding& finding) {
  if (!finding.turned || !finding.order.buildable) return loaded;
  return {finding.turned->frame, finding.turned->contacts, loaded.text};
}

}  // namespace

bool longer_than_its_room(const model::Frame& frame) {
  for (const planner::WayIn& way : planner::ways_in(frame)) {
    for (const std::string& id : way.surfaces) {
      const model::Surface& surface = *std::find_if(frame.surfaces.begin(), frame.surfaces.end(),
                                                    [&](const model::Surface& one) { return one.id == id; });
      const model::Vec3 in = -surface.normal.unit();
      const double plane = -surface.at * surface.normal.unit()[surface.normal.axis()];
      for (const model::Part& part : frame.parts) {
        for (const model::Solid& solid : part.solids) {
          if (model::reach_along(solid, in) > plane + model::kTouch) return true;
        }
      }
    }
  }
  return false;
}

LoadedFrame as_built(const LoadedFrame& loaded, const Finding& finding) {
  if (!finding.turned || (!longer_than_its_room(loaded.frame) && builds_as_drawn(loaded))) return loaded;
  return turned_if_that_helps(loaded, finding);
}

LoadedFrame as_built(const LoadedFrame& loaded) {
  planner::FitOptions options;
  options.cures = false;
  const planner::Fit fit = planner::find_fit(loaded.frame, options);
  const bool needs_turns = !fit.turns.empty() || fit.shift != model::Vec3{};
  if (!needs_turns || (!longer_than_its_room(loaded.frame) && builds_as_drawn(loaded))) return loaded;
  return turned_if_that_helps(loaded, find_out(loaded.frame, loaded.contacts));
}

void count_as_made_up(const model::Frame& drawn, const planner::ContactList& list, std::vector<planner::Step>& steps) {
  for (planner::Step& step : steps) {
    if (step.turns == 0.0 || step.contacts.empty()) continue;
    const planner::Contact& contact = list.contact(step.contacts.front());
    if (contact.kind != planner::ContactKind::thread) continue;
    const model::Joint& joint = drawn.joint(contact.joint);
    step.turns = joint.engaged / joint.pitch;
  }
}

}  // namespace dryfit::cli
