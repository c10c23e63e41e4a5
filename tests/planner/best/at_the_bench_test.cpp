// What a fitter sees at once in a printed order: a leg that would have to swing through the bench, a rail that hangs by
// one flange while something else is made. The frames are drawn by hand.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "planner/best/best_order.hpp"
#include "planner/best/standing.hpp"
#include "tests/support/answers/best_steps.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/ring_on_four_feet.hpp"
#include "tests/support/program/program.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

const std::string kHead =
    "dryfit: 1\nunits: in\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\n";

/// Contacts of the steps, in order, those with `end` alone.
std::vector<std::string> that_end_in(const Workpiece& w, const std::string& end) {
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  std::vector<std::string> out;
  for (const Step& step : best.order.steps) {
    const std::string& id = w.list.contact(step.contacts.front()).id;
    out.push_back(id.ends_with(end) ? id : "");
  }
  return out;
}

/// Steps between the first and the last of these.
long apart(const std::vector<std::string>& steps, const std::vector<std::string>& which) {
  long first = -1, last = -1;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (std::find(which.begin(), which.end(), steps[i]) == which.end()) continue;
    if (first < 0) first = static_cast<long>(i);
    last = static_cast<long>(i);
  }
  return last - first;
}

TEST_CASE("a rail between two walls is screwed to both before the next one is made") {
  const Workpiece w =
      workpiece(kHead +
                "  wall: {normal: front, at: 0}\n  side: {normal: left, at: 29-3/8}\nruns:\n"
                "  low: {from: wall, at: [0, 40], parts: [FA: flange, P1: {pipe: 6}, E1: {elbow: right}, "
                "P2: {pipe: 28}, FB: flange], to: side}\n"
                "  high: {from: wall, at: [0, 52], parts: [FC: flange, P3: {pipe: 6}, E2: {elbow: right}, "
                "P4: {pipe: 28}, FD: flange], to: side}\n");
  std::vector<std::string> steps = that_end_in(w, "/wall");
  const std::vector<std::string> side = that_end_in(w, "/side");
  for (std::size_t i = 0; i < steps.size(); ++i) steps[i] += side[i];
  CHECK(apart(steps, {"FA/wall", "FB/side"}) == 1);
  CHECK(apart(steps, {"FC/wall", "FD/side"}) == 1);
}

// What turns with its post on it reaches under the bench while the work stands on it; while it lies, nothing does.
TEST_CASE("all legs of a table are screwed on alike: the flange, then the pipe, then the foot") {
  std::string legs;
  for (const auto& [n, place] : {std::pair{"1", "4, 4"}, {"2", "32, 4"}, {"3", "4, 20"}, {"4", "32, 20"}}) {
    legs += "  leg " + std::string(n) + ": {from: floor, at: [" + place + "], parts: [K" + n + ": cap, P" + n +
            ": {pipe: 28}, F" + n + ": flange], to: TOP.down}\n";
  }
  const Workpiece w =
      workpiece(kHead + "runs:\n" + legs + "boards:\n  TOP: {at: [0, 0], size: {x: 36, y: 24, z: 1}, stock: oak}\n");
  const BestOrder best = find_best_order(w.frame, w.list);
  for (const std::string n : {"1", "2", "3", "4"}) {
    CAPTURE(n);
    const int screws = test::step_of(w, best, "F" + n + "/TOP");
    CHECK(test::step_of(w, best, "P" + n + "/F" + n + ".down") == screws + 1);
    CHECK(test::step_of(w, best, "P" + n + "/K" + n + ".up") == screws + 2);
  }
}

TEST_CASE("a ring on four feet is joined lying, so that no leg swings through the bench") {
  const Workpiece w = workpiece(test::kRingOnFourFeet);
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  const Undoer undoer(w.frame, w.list);
  CHECK(standing_of(w.frame, w.list, Effort(undoer, 2), best).dips.empty());
  CHECK(std::count(best.poses.of_move.begin(), best.poses.of_move.end(), Pose::laid) > 0);
}

// Who wants it standing has the last post of a cube swing under it: by as much as it reaches beyond the height of its
// rail.
TEST_CASE("a post that swings through the bench is told with the room that it takes below") {
  const Workpiece w = workpiece(tests::slurp(DRYFIT_SOURCE_DIR "/tests/fitter/cube/five-unions.yaml"));
  BestOptions standing;
  standing.pose = PosePreference::standing;
  const BestOrder best = find_best_order(w.frame, w.list, standing);
  REQUIRE(best.order.buildable);
  const Undoer undoer(w.frame, w.list);
  const StandingPlan plan = standing_of(w.frame, w.list, Effort(undoer, 2), best);
  REQUIRE(plan.dips.size() == 1);
  const Step& step = best.order.steps[static_cast<std::size_t>(plan.dips.front().step) - 1];
  const Contact& thread = w.list.contact(step.contacts.front());
  CHECK(thread.id == "BC/B.left");
  double lowest = thread.on_axis.z;
  for (const model::Part& part : w.frame.parts) lowest = std::min(lowest, bounds_of_part(part).lo.z);
  CHECK(plan.dips.front().by == doctest::Approx(step.swing_radius - (thread.on_axis.z - lowest)).epsilon(1e-6));
}

}  // namespace
}  // namespace dryfit::planner
