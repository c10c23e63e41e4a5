#include <fmt/format.h>

#include "cli/input/given_steps.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "tests/fuzz/sound.hpp"
#include "tests/fuzz/targets.hpp"

namespace dryfit::fuzz {
namespace {

/// Every kind of contact but a notch: threads, a union's nut, holes, a rest, and screws.
constexpr const char* kFrame = R"(dryfit: 1
name: Drying stand
pipe: {standard: npt, size: 1/2}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left:
    from: floor
    at: [0, 0]
    parts:
      - F: flange
      - P: {pipe: 8}
      - T: {tee: right}
      - Q: {pipe: 8}
      - C: coupling
      - R: {pipe: 6}
  rail:
    from: T.right
    parts:
      - A: {pipe: 8}
      - U: union
      - B: {pipe: 8}
    to: V.left
  right:
    from: floor
    parts:
      - G: flange
      - H: {pipe: 8}
      - V: {tee: left}
      - I: {pipe: 8}
      - D: coupling
      - J: {pipe: 6}
boards:
  S:
    through: [R, J]
    rests-on: [C, D]
    size: {x: 24, y: 6, z: 3/4}
    reach: {left: 2, front: 3}
  L:
    rests-on: [A]
    size: {x: 4, y: 6, z: 1/2}
    reach: {left: 2, front: 3}
    strap: {A: 1}
)";

}  // namespace

std::string try_steps(std::string_view bytes) {
  static const model::Frame frame = model::read_frame(kFrame, "stand.yaml");
  static const planner::ContactList list = planner::contacts_of(frame);
  try {
    const auto steps = cli::read_steps(bytes, "fuzz.json", frame, list);
    const planner::ReplayResult result = planner::replay(frame, list, steps);
    const auto count = static_cast<int>(steps.size());
    if (result.legal) {
      std::vector<int> times(list.contacts.size(), 0);
      for (const auto& step : steps) {
        for (const planner::ContactId c : step.contacts) ++times[dryfit::at(c)];
      }
      for (const int n : times) {
        if (n != 1) return "legal, but not every contact is made once";
      }
      return result.first_bad_step == 0 ? "" : "legal, and yet a bad step";
    }
    if (result.why.empty()) return "illegal, and no word why";
    if (result.first_bad_step < 1 || result.first_bad_step > count + 1) {
      return fmt::format("bad step {} of {}", result.first_bad_step, count);
    }
    return {};
  } catch (const model::InputError& error) {
    return faults_are_sound(error, bytes);
  }
}

}  // namespace dryfit::fuzz
