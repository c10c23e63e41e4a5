/// A board on one pipe, turned about it to pass what hangs over it. The truth is what hands do with such a board.
#include <doctest/doctest.h>

#include "tests/support/frames/stands.hpp"
#include "tests/support/frames/three_answers.hpp"

namespace dryfit::test {
namespace {

/// A shelf of 400 x 200 on one stand, open at the top, its long side to the right.
FrameSpec one_shelf() {
  FrameSpec bench = bench_on_floor("Herb shelf");
  add(bench, Stand{"1", {0, 0, 0}, 200, 150, ""});
  add(bench, Plank{.through = {"B1"}, .rests_on = {"C1"}, .left = 60, .right = 340});
  return bench;
}

/// The shelf's underside is about 245 over the floor; 420 is above the pipe's end, 300 between the two.
constexpr double kOverShelf = 300.0;

}  // namespace

TEST_CASE("a shelf on one post passes an arm over its far end when it is turned from under it") {
  FrameSpec bench = one_shelf();
  CHECK(comes_off(bench, {"S/B1"}) == "yes");  // nothing over it
  add_arm(bench, "9", {250, 250, 0}, kOverShelf, model::kFront, 200);
  CHECK(comes_off(bench, {"S/B1"}) == "yes");  // turned to the front
  CHECK(verdict_three_times(bench) == "buildable");
  SUBCASE("with the arm's post to the front as well as to the back of it") {
    add_stake(bench, "8", {250, -160, 0}, 400);
    CHECK(comes_off(bench, {"S/B1"}) == "no");
    CHECK(comes_off(bench, {"S/B1"}, {"F8/floor"}) == "yes");
    CHECK(comes_off(bench, {"S/B1"}, {"F9/floor"}) == "yes");
  }
  SUBCASE("or with a wall so near that its corner cannot come round") {
    bench.surfaces.push_back({"wall", model::kBack, -110.0});  // behind its front edge at -100 by 10
    // The far corners go round at hypot(340, 100) = 354; the other way the post of the arm stands at 250, 250.
    CHECK(comes_off(bench, {"S/B1"}) == "no");
  }
  SUBCASE("a cap on its own post stops it at any angle") {
    bench.runs.front().parts.push_back(bench.runs.back().parts.front());
    bench.runs.front().parts.back().id = "K1";
    bench.runs.front().parts.back().kind = "cap";
    CHECK(comes_off(bench, {"S/B1"}) == "no");
    CHECK(comes_off(bench, {"S/B1"}, {"B1/K1.down"}) == "yes");
  }
}

TEST_CASE("a shelf between two stakes turns only so far, and that is enough or is not") {
  for (const bool short_arm : {true, false}) {
    CAPTURE(short_arm);
    FrameSpec bench = one_shelf();
    add_stake(bench, "7", {120, 280, 0}, 400);
    add_stake(bench, "8", {120, -280, 0}, 400);
    // The shelf turns by 45 degrees before its edge, 100 from the pipe, meets a stake. An arm from the right that ends
    // over it at 325 is passed from asin((100 + 13) / 325) = 20 degrees on; one that ends at 75 is always over it.
    add_arm(bench, "9", {480, 0, 0}, kOverShelf, model::kLeft, short_arm ? 130 : 380);
    CHECK(comes_off(bench, {"S/B1"}) == (short_arm ? "yes" : "no"));
  }
}

TEST_CASE("a shelf on two posts does not turn") {
  FrameSpec bench = bench_on_floor("Herb shelf");
  add(bench, Stand{"1", {0, 0, 0}, 200, 150, ""});
  add(bench, Stand{"2", {200, 0, 0}, 200, 150, ""});
  add(bench, Plank{.through = {"B1", "B2"}, .rests_on = {"C1", "C2"}, .left = 60, .right = 340});
  add_arm(bench, "9", {300, 250, 0}, kOverShelf, model::kFront, 200);
  CHECK(comes_off(bench, {"S/B1", "S/B2"}) == "no");
  CHECK(comes_off(bench, {"S/B1", "S/B2"}, {"F9/floor"}) == "yes");
  // Its second post drawn out downward leaves it on one, and then it does.
  CHECK(comes_off(bench, {"S/B1"}, {"F2/floor", "A2/C2.down", "B2/C2.up", "S/B2"}) == "yes");
}

TEST_CASE("a board that was swung out of its slot slides off from where it was swung to") {
  // One hole, one slot, caps on both stands: the cap of the slot's stand is over the board in its place.
  const auto rack = [] {
    FrameSpec bench = bench_on_floor("Potting board");
    add(bench, Stand{"1", {0, 0, 0}});
    add(bench, Stand{"2", {400, 0, 0}});
    add(bench, Plank{.through = {"B1"}, .notches = {{"B2", model::kFront}}, .rests_on = {"C1", "C2"}, .right = 500});
    return bench;
  };
  CHECK(comes_off(rack(), {"S/B2"}) == "yes");
  CHECK(comes_off(rack(), {"S/B1"}) == "no");
  CHECK(comes_off(rack(), {"S/B1"}, {"S/B2"}) == "no");  // under its own cap
  CHECK(comes_off(rack(), {"S/B1"}, {"S/B2", "B1/K1.down"}) == "yes");
  CHECK(comes_off(rack(), {"S/B1"}, {"S/B2", "B2/K2.down"}) == "no");
  SUBCASE("unless a wall keeps it from being swung at all") {
    FrameSpec bench = rack();
    bench.surfaces.push_back({"wall", model::kFront, 105.0});  // its back edge is at 100
    CHECK(comes_off(bench, {"S/B2"}) == "no");
    CHECK(comes_off(bench, {"S/B1"}, {"S/B2", "B1/K1.down"}) == "no");
    CHECK(comes_off(bench, {"S/B1"}, {"S/B2", "B1/K1.down", "B2/K2.down"}) == "yes");
  }
}

}  // namespace dryfit::test
