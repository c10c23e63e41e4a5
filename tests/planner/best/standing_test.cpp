#include "planner/best/standing.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "planner/best/best_order.hpp"
#include "planner/effort/no_way_in.hpp"
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
  // 1 in NPT: 11-1/2 threads to the inch (pitch 2.209 mm), wrench make-up three threads beyond hand-tight (L3): both
  // flanges go three turns further in, which makes 13.25 mm.
  REQUIRE(plan.ways_in[0].ends[0].size() == 1);
  REQUIRE(plan.ways_in[0].ends[1].size() == 1);
  CHECK(plan.ways_in[0].ends[0].front().turns == 3.0);
  CHECK(plan.ways_in[0].gives() == doctest::Approx(2 * 3 * 25.4 / 11.5));
  CHECK(plan.headroom_missing <= 0.0);
}

double height_of(const Workpiece& w) {
  double height = 0.0;
  for (const model::Part& part : w.frame.parts) {
    for (const model::Solid& solid : part.solids) height = std::max(height, bounds_of(solid).hi.z);
  }
  return height;
}

/// A pole between floor and ceiling, with plates as wide as told; the room is as high as the pole as made up.
Workpiece pole_between(const std::string& plates, const std::string& more = "") {
  const auto text = [&](double ceiling) {
    return kRoom + "  ceiling: {normal: down, at: " + std::to_string(ceiling) + " mm}\nruns:\n  post:\n" +
           "    from: floor\n    at: [0, 0]\n    parts:\n      - F1: {flange: , measured: {plate: " + plates + "}}\n" +
           "      - P: {pipe: 30}\n" + more + "      - F2: {flange: , measured: {plate: " + plates +
           "}}\n    to: ceiling\n";
  };
  return workpiece(text(height_of(workpiece(text(3000.0)))));
}

TEST_CASE("both flanges give for the tilt, counted in millimetres") {
  // Each flange goes deeper by three turns of 25.4/11.5 mm, so a pole that fills the room as made up is 13.25 mm lower;
  // tilted about the edge of its plate it rises to the diagonal of that and the plate's width.
  const Workpiece w = pole_between("5-1/2 in");
  const Undoer undoer(w.frame, w.list);
  const Effort effort(undoer, 2);
  std::vector<PartId> all;
  for (PartId p = 0; p < static_cast<PartId>(w.frame.parts.size()); ++p) all.push_back(p);
  const Tilt tilt = tilt_of(w.frame, effort, all);
  CHECK(tilt.diagonal == doctest::Approx(std::hypot(height_of(w) - 2 * 3 * 25.4 / 11.5, 5.5 * 25.4)).epsilon(1e-5));
  CHECK(tilt.fits);  // 786.4 mm high: hypot(773.1, 139.7) = 785.6, while one flange alone would leave 792.1
}

TEST_CASE("a pole with plates too wide to be tilted has no way in where its last flange lacks headroom") {
  // 8 in plates: hypot(773.1, 203.2) = 799 mm is over the ceiling. Standing, the last flange begins the thread's length
  // higher: L1 of 1 in NPT is 0.400 in = 10.16 mm; the other flange gives 6.63 mm of it, and half a millimetre counts
  // as room.
  const Workpiece w = pole_between("8 in");
  CHECK(plan_of(w).headroom_missing == doctest::Approx(10.16 - 3 * 25.4 / 11.5 - 0.5).epsilon(1e-3));
  CHECK(find_best_order(w.frame, w.list).effort.unwanted >= 1000.0);
}

TEST_CASE("with a joint between them both flanges give, and the joint can be made between floor and ceiling") {
  // The coupling is turned on last: 10.16 mm are wanted, the two flanges give 13.25 mm.
  const Workpiece w = pole_between("8 in", "      - C: coupling\n      - Q: {pipe: 30}\n");
  const StandingPlan plan = plan_of(w);
  CHECK(plan.headroom_missing <= 0.0);
  for (const Turning& turning : plan.turnings) CHECK(turning.tilt.fits);
  CHECK(find_best_order(w.frame, w.list).effort.unwanted < 1000.0);
}

std::optional<double> lacks(const Workpiece& w) {
  const Undoer undoer(w.frame, w.list);
  return no_way_in(w.frame, Effort(undoer, 2));
}

TEST_CASE("whether a pole gets in between floor and ceiling is known without an order") {
  // As the tests above: 10.16 mm of thread less what the other flange gives and half a millimetre; with a coupling both
  // give; a nut takes no room at all; narrow plates let it be tilted.
  const std::optional<double> plain = lacks(pole_between("8 in"));
  REQUIRE(plain);
  CHECK(*plain == doctest::Approx(10.16 - 3 * 25.4 / 11.5 - 0.5).epsilon(1e-3));
  CHECK_FALSE(lacks(pole_between("8 in", "      - C: coupling\n      - Q: {pipe: 30}\n")));
  CHECK_FALSE(lacks(pole_between("8 in", "      - U: union\n      - Q: {pipe: 30}\n")));
  CHECK_FALSE(lacks(pole_between("5-1/2 in")));
}

/// Poles of one pipe each at these places (in), between floor and ceiling, and a board over all of them if asked for.
Workpiece poles_through(const std::vector<std::string>& places, bool board) {
  const auto text = [&](double ceiling) {
    std::string out = kRoom + "  ceiling: {normal: down, at: " + std::to_string(ceiling) + " mm}\nruns:\n", names;
    for (std::size_t i = 0; i < places.size(); ++i) {
      const std::string n = std::to_string(i);
      out += "  r" + n + ": {from: floor, at: [" + places[i] + "], parts: [A" + n + ": flange, P" + n +
             ": {pipe: 30}, B" + n + ": flange], to: ceiling}\n";
      names += (names.empty() ? "P" : ", P") + n;
    }
    if (!board) return out;
    return out + "boards:\n  S: {through: [" + names + "], height: 15, at: [-8, -8], size: {x: 40, y: 40, z: 3/4}}\n";
  };
  return workpiece(text(height_of(workpiece(text(3000.0)))));
}

TEST_CASE("a board that is closed round the poles has them tilted up together") {
  // Each pole by itself: 786.4 mm less 13.25 is 773.1, and with its plate of 4 in (102 mm) hypot is 779.9: it gets in.
  // Two in one board are tilted up sideways, as one. Four in a square of 20 in: hypot(773.1, 508 + 102) = 985,
  // whichever way. The last flange lacks 3.0 mm standing.
  CHECK_FALSE(lacks(poles_through({"0, 0"}, true)));
  CHECK_FALSE(lacks(poles_through({"0, 0", "0, 20"}, true)));
  const std::vector<std::string> square{"0, 0", "0, 20", "20, 0", "20, 20"};
  CHECK_FALSE(lacks(poles_through(square, false)));
  const std::optional<double> four = lacks(poles_through(square, true));
  REQUIRE(four);
  CHECK(*four == doctest::Approx(10.16 - 3 * 25.4 / 11.5 - 0.5).epsilon(1e-3));
}

TEST_CASE("a flange that is not on the work yet keeps none from giving") {
  // Two poles beside each other: the one that is stood up first gives by both its flanges, whatever the other does.
  const Workpiece w = poles_through({"0, 0", "0, 20"}, false);
  const StandingPlan plan = plan_of(w);
  CHECK(plan.headroom_missing <= 0.0);
  for (const Turning& turning : plan.turnings) CHECK(turning.tilt.fits);
}

TEST_CASE("a leg that only stands against the floor does not get shorter, whatever the flange beside it gives") {
  const Workpiece w = workpiece(kRoom + R"(  ceiling: {normal: down, at: 31}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - F1: flange
      - P: {pipe: 30}
      - F2: flange
    to: ceiling
  stub:
    from: floor
    at: [12, 0]
    parts: [K: cap, S: {pipe: 6}]
)");
  const std::vector<WayIn> ways = ways_in(w.frame);
  REQUIRE(ways.size() == 1);
  CHECK(ways[0].ends[0].empty());
  CHECK(ways[0].ends[1].size() == 1);
}

TEST_CASE("pieces are named A to Z, then AA") {
  CHECK(piece_name(0) == "A");
  CHECK(piece_name(25) == "Z");
  CHECK(piece_name(26) == "AA");
  CHECK(piece_name(27) == "AB");
  CHECK(piece_name(26 + 26 * 26) == "AAA");
}

TEST_CASE("chores are listed only where the frame has them") {
  const auto prepared = [](const Workpiece& piece) {
    return preparation_of(piece.frame, piece.list, find_order(piece.frame, piece.list).steps);
  };
  const Preparation bare = prepared(workpiece(arm("10")));
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
  const Preparation shelf = prepared(workpiece(kRoom + R"(runs:
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
)"));
  CHECK(has(shelf.before, Chore::drill));
  CHECK(shelf.at_step.empty());
  CHECK(has(shelf.before, Chore::finish));
  CHECK_FALSE(has(shelf.before, Chore::dry_fit));
  CHECK_FALSE(has(shelf.after, Chore::fasten_check));
}

TEST_CASE("a shelf over two posts that a rail joins is drilled once they stand, right before it goes on") {
  const Workpiece rack = workpiece(kRoom + R"(runs:
  left: {from: floor, at: [0, 0], parts: [FL: flange, L1: {pipe: 6}, T: {tee: right}, L2: {pipe: 12}, C1: coupling,
    L3: {pipe: 12}, K1: cap]}
  rail: {from: T.right, parts: [R: {pipe: 18}], to: U.left}
  right: {from: floor, parts: [FR: flange, R1: {pipe: 6}, U: {tee: left}, R2: {pipe: 12}, C2: coupling,
    R3: {pipe: 12}, K2: cap]}
boards:
  S1: {through: [L2, R2], rests-on: [T, U], size: {x: 30, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
  S2: {through: [L3, R3], rests-on: [C1, C2], size: {x: 30, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
)");
  const std::vector<Step> steps = find_best_order(rack.frame, rack.list).order.steps;
  const Preparation all = preparation_of(rack.frame, rack.list, steps);
  REQUIRE(all.at_step.size() == 2);
  for (const auto& [number, line] : all.at_step) {
    REQUIRE(line.parts.size() == 1);
    const Step& step = steps[static_cast<std::size_t>(number) - 1];
    CHECK(std::find(step.moving.begin(), step.moving.end(), line.parts.front()) != step.moving.end());
    CHECK(step.contacts.size() >= 2);
  }
  // What to hold the board down with and what to wear is told with the first alone.
  CHECK_FALSE(all.at_step[0].second.cautions.empty());
  CHECK(all.at_step[1].second.cautions.empty());
  for (const ChoreLine& line : all.before) CHECK(line.chore != Chore::drill);
}

TEST_CASE(
    "between posts that each stand loose there is nothing to measure: the first shelf is drilled before the build") {
  const Workpiece rack = test::tray_rack();
  const std::vector<Step> steps = find_best_order(rack.frame, rack.list).order.steps;
  const Preparation all = preparation_of(rack.frame, rack.list, steps);
  const auto drilled = std::find_if(all.before.begin(), all.before.end(),
                                    [](const ChoreLine& line) { return line.chore == Chore::drill; });
  REQUIRE(drilled != all.before.end());
  const auto first = std::find_if(steps.begin(), steps.end(), [&](const Step& step) {
    return std::any_of(step.moving.begin(), step.moving.end(),
                       [&](PartId part) { return rack.frame.part(part).kind == model::PartKind::board; });
  });
  REQUIRE(first != steps.end());
  CHECK(std::find(drilled->parts.begin(), drilled->parts.end(), first->moving.front()) != drilled->parts.end());
}

TEST_CASE("a board that goes on loose pipes is drilled before the build: nothing can be measured yet") {
  const Workpiece rack = test::tray_rack();
  std::vector<Step> steps = find_best_order(rack.frame, rack.list).order.steps;
  const auto brings_tray = [&](const Step& step) {
    return std::any_of(step.moving.begin(), step.moving.end(),
                       [&](PartId part) { return rack.frame.part(part).kind == model::PartKind::board; });
  };
  std::stable_partition(steps.begin(), steps.end(), brings_tray);
  for (std::size_t i = 0; i < steps.size(); ++i) steps[i].number = static_cast<int>(i) + 1;
  const Preparation all = preparation_of(rack.frame, rack.list, steps);
  CHECK(all.at_step.empty());
  CHECK(std::any_of(all.before.begin(), all.before.end(),
                    [](const ChoreLine& line) { return line.chore == Chore::drill; }));
}

}  // namespace
}  // namespace dryfit::planner
