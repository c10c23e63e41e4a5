#include "tests/fuzz/sound.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"
#include "planner/judge/replay.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::fuzz {
namespace {

bool finite(model::Vec3 p) { return std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z); }

std::string coordinates_are_finite(const model::Frame& frame) {
  for (const model::Part& part : frame.parts) {
    bool good = finite(part.centre) && finite(part.centre_of_mass) && std::isfinite(part.mass) && part.mass >= 0.0;
    for (const model::Solid& solid : part.solids) good = good && finite(solid.a) && finite(solid.b);
    for (const model::Port& port : part.ports) good = good && finite(port.at);
    if (!good) return "part " + part.id + " has no finite place or mass";
  }
  return {};
}

std::string order_is_sound(const model::Frame& frame, const planner::ContactList& list, const planner::Order& order) {
  std::vector<planner::GivenStep> steps;
  std::vector<int> times(list.contacts.size(), 0);
  for (const planner::Step& step : order.steps) {
    steps.push_back({step.action, step.contacts, step.moving});
    for (const planner::ContactId c : step.contacts) ++times[dryfit::at(c)];
  }
  if (std::any_of(times.begin(), times.end(), [](int n) { return n != 1; })) {
    return "the order does not make every contact once";
  }
  const planner::ReplayResult replayed = planner::replay(frame, list, steps);
  if (replayed.legal) return {};
  return fmt::format("the judge refuses the order at step {}: {}", replayed.first_bad_step, replayed.why);
}

}  // namespace

std::string faults_are_sound(const model::InputError& error, std::string_view text) {
  const auto lines = std::count(text.begin(), text.end(), '\n') + std::count(text.begin(), text.end(), '\r') + 1;
  if (error.faults().empty()) return "an error without a fault";
  for (const model::InputFault& fault : error.faults()) {
    if (fault.text.empty()) return "a fault without words";
    if (fault.where.line < 0 || fault.where.line > lines || fault.where.column < 0) {
      return fmt::format("a fault at {}:{}, outside of the text: {}", fault.where.line, fault.where.column, fault.text);
    }
    if (fault.where.line > 0 && fault.where.column == 0) return "a fault with a line and no column: " + fault.text;
  }
  return {};
}

std::string frame_is_sound(const model::Frame& frame, Answer& answer) {
  if (std::string broken = coordinates_are_finite(frame); !broken.empty()) return broken;
  const planner::ContactList list = planner::contacts_of(frame);
  answer.overlaps = !planner::overlaps_of(frame, list).empty();
  const planner::Order order = planner::find_order(frame, list);
  answer.buildable = order.buildable;
  for (const planner::ContactId c : order.knot) answer.knot.insert(list.contact(c).id);
  if (!order.buildable) return order.knot.empty() ? "locked without a knot" : "";
  // Where bodies overlap there is nothing to build, and the program prints no order.
  return answer.overlaps ? "" : order_is_sound(frame, list, order);
}

}  // namespace dryfit::fuzz
