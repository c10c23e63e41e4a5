#include "planner/best/standing.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "planner/best/best_order.hpp"
#include "planner/order/preparation.hpp"
#include "planner/order/subassembly.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/given_steps.hpp"

namespace dryfit::planner {
namespace {

using test::arm;
using test::Workpiece;
using test::workpiece;

const std::string kRoom = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
)";

StandingPlan plan_of(const Workpiece& w, PosePreference preference = PosePreference::free) {
  BestOptions options;
  options.pose = preference;
  const BestOrder best = find_best_order(w.frame, w.list, options);
  REQUIRE(best.order.buildable);
  const Undoer undoer(w.frame, w.list);
  return standing_of(w.frame, w.list, Effort(undoer, 2), best);
}

TEST_CASE("what must be screwed to the floor is stood up before") {
  const Workpiece w = workpiece(arm("30"));
  const StandingPlan plan = plan_of(w, PosePreference::laid);
  REQUIRE_FALSE(plan.turnings.empty());
  const Turning& last = plan.turnings.back();
  CHECK(last.to == Pose::standing);
  CHECK(plan.pose_of_step.back() == Pose::standing);
  CHECK(last.tilt.fits);
  CHECK_FALSE(last.tilt.room_height);
}

TEST_CASE("a frame lower than the ceiling may still be too tall to be tilted up under it") {
  // Upright it is about 1.05 m tall and 0.85 m wide; tilted about its narrow side it needs little more than its height.
  const std::string low = "  ceiling: {normal: down, at: 1055 mm}\n";
  const Workpiece free = workpiece(arm("30"));
  const Workpiece tight = workpiece(arm("30", low));
  const StandingPlan plan = plan_of(tight, PosePreference::laid);
  REQUIRE_FALSE(plan.turnings.empty());
  const Turning& up = plan.turnings.back();
  REQUIRE(up.tilt.room_height);
  CHECK(*up.tilt.room_height == doctest::Approx(1055.0));
  CHECK(up.tilt.fits == (up.tilt.diagonal <= 1055.0));
  // The diagonal is that of height and depth.
  const StandingPlan wide = plan_of(free, PosePreference::laid);
  CHECK(wide.turnings.back().tilt.diagonal == doctest::Approx(up.tilt.diagonal));
}

TEST_CASE("a frame that can only be tilted over a diagonal above the ceiling is reported") {
  const std::string ceiling = "  ceiling: {normal: down, at: 1029 mm}\n";
  const Workpiece w = workpiece(kRoom + ceiling + R"(runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - F: flange
      - P1: {pipe: 38}
      - E: {elbow: right}
      - P2: {pipe: 30}
      - E2: {elbow: back}
      - P3: {pipe: 30}
      - K: cap
)");
  const StandingPlan plan = plan_of(w, PosePreference::laid);
  REQUIRE_FALSE(plan.turnings.empty());
  const Turning& up = plan.turnings.back();
  CHECK(up.tilt.diagonal > 1029.0);
  CHECK_FALSE(up.tilt.fits);
  CHECK(up.tilt.obstacle == "ceiling");
  // Without the wish to build it lying down it is never turned where it would strike.
  for (const Turning& turning : plan_of(w).turnings) CHECK(turning.tilt.fits);
}

TEST_CASE("what stands out above the feet does not count when work is tilted about their edge") {
  // A pole of 60 in on a flange with shelf arms of 12 in half way up on all sides: about the flange's edge it rises to
  // little more than its height, about the arms' ends to hypot(height, 24 in).
  const Workpiece w = workpiece(kRoom + R"(runs:
  pole:
    from: floor
    at: [0, 0]
    parts:
      - F: flange
      - P1: {pipe: 30}
      - X: {tee: right}
      - P2: {pipe: 30}
      - K: cap
  right arm:
    from: X.right
    parts:
      - A: {pipe: 24}
      - KA: cap
)");
  const Undoer undoer(w.frame, w.list);
  const Effort effort(undoer, 2);
  std::vector<PartId> all;
  for (PartId p = 0; p < static_cast<PartId>(w.frame.parts.size()); ++p) all.push_back(p);
  double height = 0.0, flange = 0.0;
  for (const PartId p : all) height = std::max(height, effort.bounds(p).hi.z);
  flange = effort.bounds(all.front()).hi.x - effort.bounds(all.front()).lo.x;
  const Tilt tilt = tilt_of(w.frame, effort, all);
  CHECK(tilt.fits);
  CHECK(tilt.diagonal >= height);
  CHECK(tilt.diagonal <= std::hypot(height, flange) + 1e-9);
}

TEST_CASE("between floor and ceiling a flange is screwed in deeper to get the post in") {
  const Workpiece w = workpiece(kRoom + R"(  ceiling: {normal: down, at: 1131.1 mm}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - F1: flange
      - P: {pipe: 1100 mm}
      - F2: flange
    to: ceiling
)");
  const StandingPlan plan = plan_of(w);
  REQUIRE(plan.ways_in.size() == 1);
  CHECK(plan.ways_in[0].surfaces == std::vector<std::string>{"floor", "ceiling"});
  CHECK(plan.ways_in[0].flange != model::kNone);
  CHECK(plan.ways_in[0].turns >= 1.0);
}

TEST_CASE("pieces are named A to Z, then AA") {
  CHECK(piece_name(0) == "A");
  CHECK(piece_name(25) == "Z");
  CHECK(piece_name(26) == "AA");
  CHECK(piece_name(27) == "AB");
  CHECK(piece_name(26 + 26 * 26) == "AAA");
}

TEST_CASE("chores are listed only where the frame has them") {
  const Preparation bare = preparation_of(workpiece(arm("10")).frame);
  const auto has = [](const std::vector<ChoreLine>& lines, Chore chore) {
    for (const ChoreLine& line : lines) {
      if (line.chore == chore) return true;
    }
    return false;
  };
  CHECK(has(bare.before, Chore::degrease));
  CHECK_FALSE(has(bare.before, Chore::drill));
  CHECK_FALSE(has(bare.before, Chore::finish));
  CHECK_FALSE(has(bare.before, Chore::dry_fit));
  CHECK(has(bare.after, Chore::fasten_check));
  const Preparation shelf = preparation_of(workpiece(kRoom + R"(runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - C0: cap
      - P1: {pipe: 10}
      - C1: coupling
      - P2: {pipe: 10}
      - C2: coupling
boards:
  S:
    through: [P2]
    rests-on: [C1]
    size: {x: 10, y: 10, z: 3/4}
    reach: {left: 5, front: 5}
)")
                                               .frame);
  CHECK(has(shelf.before, Chore::drill));
  CHECK(has(shelf.before, Chore::finish));
  CHECK_FALSE(has(shelf.before, Chore::dry_fit));
  CHECK_FALSE(has(shelf.after, Chore::fasten_check));
}

}  // namespace
}  // namespace dryfit::planner
