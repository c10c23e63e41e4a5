/// A board on its carriers, drawn level or not. What is true is what a fitter does at the bench: however much too high
/// the drawing puts a carrier, the board lies on it in the end, is lifted off it and pushed along on it.
#include <doctest/doctest.h>

#include "tests/support/frames/stands.hpp"
#include "tests/support/frames/three_answers.hpp"

namespace dryfit::test {
namespace {

/// Two stands 400 apart; the carriers of the right one are drawn higher by `higher`.
FrameSpec two_stands(double higher, const std::string& top = "cap", bool loose = false) {
  FrameSpec bench = bench_on_floor("Bread board rack");
  add(bench, Stand{"1", {0, 0, 0}, 200, 150, top});
  add(bench, Stand{"2", {400, 0, 0}, 200 + higher, 150, top, loose});
  return bench;
}

constexpr double kUneven[] = {0.0, 0.4, 0.7, 5.0, 9.0, 11.1, 18.5, 19.0, 24.0, 60.0, -0.7, -11.1, -30.0};

}  // namespace

TEST_CASE("a laid board is taken off carriers of any unevenness") {
  for (const double higher : kUneven) {
    CAPTURE(higher);
    if (higher > 15.0) continue;  // the pipe in the cap would be in the board as well: an overlap of the design
    FrameSpec bench = two_stands(higher);
    add(bench, Plank{.id = "TOP", .rests_on = {"K1", "K2"}, .right = 500});
    CHECK(comes_off(bench, {"TOP/K1", "TOP/K2"}) == "yes");
    CHECK(verdict_three_times(bench) == "buildable");
  }
}

TEST_CASE("under an arm a laid board is pushed out over its carriers, however uneven") {
  for (const double higher : {0.0, 5.0, 11.1, 14.0}) {
    CAPTURE(higher);
    FrameSpec bench = two_stands(higher);
    add(bench, Plank{.id = "TOP", .rests_on = {"K1", "K2"}, .right = 500});
    // The arm is 19 + 20 above the undersides of a level board: 200 + 150 of pipe, coupling and cap make about 420.
    add_arm(bench, "9", {200, 180, 0}, 470, model::kFront, 200);
    CHECK(comes_off(bench, {"TOP/K1", "TOP/K2"}) == "yes");
  }
}

TEST_CASE("a drilled board is lifted off couplings of any unevenness, and never pressed down onto them") {
  for (const double higher : kUneven) {
    CAPTURE(higher);
    FrameSpec bench = two_stands(higher);
    add(bench, Plank{.through = {"B1", "B2"}, .rests_on = {"C1", "C2"}, .right = 500});
    CHECK(comes_off(bench, {"S/B1", "S/B2"}, {"B1/K1.down", "B2/K2.down"}) == "yes");
    CHECK(comes_off(bench, {"S/B1", "S/B2"}) == "no");                            // under two caps
    CHECK(comes_off(bench, {"S/B1", "S/B2"}, {"B1/K1.down"}) == "no");            // under one
    CHECK(comes_off(bench, {"S/B1", "S/B2"}, {"A1/F1.up", "A2/F2.up"}) == "no");  // downward the couplings stop it
    CHECK(verdict_three_times(bench) == "buildable");
  }
}

TEST_CASE("a slotted board is pushed in over couplings of any unevenness") {
  for (const double higher : kUneven) {
    CAPTURE(higher);
    FrameSpec bench = two_stands(higher);
    add(bench,
        Plank{.notches = {{"B1", model::kFront}, {"B2", model::kFront}}, .rests_on = {"C1", "C2"}, .right = 500});
    CHECK(comes_off(bench, {"S/B1", "S/B2"}) == "yes");
  }
}

TEST_CASE("a board swings into its slot over couplings of any unevenness, the one it turns on as well") {
  for (const double higher : kUneven) {
    CAPTURE(higher);
    FrameSpec bench = two_stands(higher);
    add(bench, Plank{.through = {"B1"}, .notches = {{"B2", model::kFront}}, .rests_on = {"C1", "C2"}, .right = 500});
    CHECK(comes_off(bench, {"S/B2"}) == "yes");
    FrameSpec other = two_stands(higher);
    add(other, Plank{.through = {"B1"}, .notches = {{"B2", model::kFront}}, .rests_on = {"C2", "C1"}, .right = 500});
    CHECK(comes_off(other, {"S/B2"}) == "yes");
  }
}

TEST_CASE("what does not carry the board is no carrier: it is in the way") {
  // A third coupling under the board would be, but this one stands beside it, in front of the way out.
  FrameSpec bench = two_stands(0.0);
  add(bench, Plank{.notches = {{"B1", model::kFront}, {"B2", model::kFront}}, .rests_on = {"C1", "C2"}, .right = 500});
  add_stake(bench, "9", {200, 160, 0}, 400);
  CHECK(comes_off(bench, {"S/B1", "S/B2"}) == "no");
  CHECK(comes_off(bench, {"S/B1", "S/B2"}, {"F9/floor"}) == "yes");
}

}  // namespace dryfit::test
