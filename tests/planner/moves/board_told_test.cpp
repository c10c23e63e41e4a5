/// What is told of a board's own moves: how far it swings out, and what is over it. By hand.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "planner/moves/moves.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;

// The shelf turns about the left post, which goes through it 100 mm from its left and its front edge: its right corners
// are 400 mm to the right and 100 to the front or back of that.
TEST_CASE(
    "a shelf that is swung out of a slot needs the room of its far corner round the post, wherever the frame stands") {
  for (const char* const at : {"[0, 0]", "[50, 70]", "[-350, 900]"}) {
    const double x = at[1] == '0' ? 0 : at[1] == '5' ? 50 : -350, y = at[1] == '0' ? 0 : at[1] == '5' ? 70 : 900;
    CAPTURE(at);
    const auto post = [&](int number, double right) {
      const std::string n = std::to_string(number);
      return "  post " + n + ": {from: floor, at: [" + std::to_string(x + right) + ", " + std::to_string(y) +
             "], parts: [F" + n + ": flange, A" + n + ": {pipe: 200}, C" + n + ": coupling, B" + n +
             ": {pipe: 150}, K" + n + ": cap]}\n";
    };
    const tests::Design design(
        "dryfit: 1\nname: Swung shelf\nunits: mm\npipe: {standard: npt, size: 3/4}\n"
        "surfaces: {floor: {normal: up, at: 0}}\nruns:\n" +
        post(1, 0.0) + post(2, 300.0) +
        "boards:\n  S: {through: [B1], notch: {B2: back}, rests-on: [C1, C2], "
        "size: {x: 500, y: 200, z: 19}, reach: {left: 100, front: 100}}\n");
    planner::Undoer undoer(design.frame, design.list);
    const planner::State whole(design.list);
    const auto ways = undoer.ways(whole, design.list.find("S/B2"));
    const auto swung = std::find_if(ways.begin(), ways.end(),
                                    [](const planner::Move& way) { return way.kind == planner::MoveKind::swing; });
    REQUIRE(swung != ways.end());
    CHECK(swung->swing_radius == doctest::Approx(std::hypot(400.0, 100.0)));
  }
}

TEST_CASE("a bed under a lid in a niche is held down by the lid, and by no wall") {
  const tests::Design design(tests::slurp(DRYFIT_SOURCE_DIR "/tests/fitter/caged/under-a-lid-in-a-niche.yaml"));
  planner::Undoer undoer(design.frame, design.list);
  const planner::Attempt attempt = undoer.try_undo(planner::State(design.list), design.list.find("BED/P"));
  REQUIRE_FALSE(attempt.legal);
  const auto told = [&](const planner::Refusal& refusal) {
    return refusal.why == planner::Refusal::Why::hits_part && refusal.blocking == design.frame.find("LID");
  };
  CHECK(std::any_of(attempt.refusals.begin(), attempt.refusals.end(), told));
}
