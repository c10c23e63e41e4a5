/// Open slots, from both sides: a board is pushed onto posts, a loose post into a board that stays, each slot by the
/// side to which it opens. The truth is what hands do.
#include <doctest/doctest.h>

#include "tests/support/frames/stands.hpp"
#include "tests/support/frames/three_answers.hpp"

namespace dryfit::test {
namespace {

constexpr double kWallBehind = 100.0;

/// A shelf screwed to a wall behind it, slots toward `first` and `second`; the posts stand loose where they are told
/// to.
FrameSpec wall_shelf(Direction first, Direction second, bool first_loose, bool second_loose) {
  FrameSpec bench = bench_on_floor("Wall shelf");
  bench.surfaces.push_back({"wall", model::kFront, kWallBehind});
  add(bench, Stand{.number = "1", .at = {0, 0, 0}, .loose = first_loose});
  add(bench, Stand{.number = "2", .at = {400, 0, 0}, .loose = second_loose});
  add(bench,
      Plank{.notches = {{"B1", first}, {"B2", second}}, .rests_on = {"C1", "C2"}, .right = 500, .fix = {"wall"}});
  return bench;
}

/// The same without wall and screws.
FrameSpec loose_shelf(Direction first, Direction second, bool first_loose, bool second_loose) {
  FrameSpec bench = wall_shelf(first, second, first_loose, second_loose);
  bench.surfaces.pop_back();
  bench.boards.front().fix.clear();
  return bench;
}

}  // namespace

TEST_CASE("a loose post is pushed into the slot of a shelf that is screwed to the wall") {
  const FrameSpec bench = wall_shelf(model::kFront, model::kFront, true, false);
  CHECK(comes_off(bench, {"S/B1"}) == "yes");
  CHECK(comes_off(bench, {"S/B2"}) == "no");  // that one is screwed to the floor
  CHECK(comes_off(bench, {"S/B2"}, {"F2/floor"}) == "yes");
  CHECK(comes_off(bench, {"S/B1", "S/B2"}) == "no");  // posts come one by one
  CHECK(verdict_three_times(bench) == "buildable");
  SUBCASE("from the side, too") {
    CHECK(comes_off(wall_shelf(model::kLeft, model::kFront, true, false), {"S/B1"}) == "yes");
    CHECK(comes_off(wall_shelf(model::kFront, model::kRight, false, true), {"S/B2"}) == "yes");
  }
  SUBCASE("but not through the wall or a stake before the slot") {
    CHECK(comes_off(wall_shelf(model::kBack, model::kFront, true, false), {"S/B1"}) == "no");
    FrameSpec blocked = bench;
    add_stake(blocked, "9", {0, -130, 0}, 400);
    CHECK(comes_off(blocked, {"S/B1"}) == "no");
    CHECK(comes_off(blocked, {"S/B1"}, {"F9/floor"}) == "yes");
  }
}

TEST_CASE("slots toward opposite edges take two loose posts one after the other") {
  const FrameSpec bench = loose_shelf(model::kFront, model::kBack, true, true);
  CHECK(comes_off(bench, {"S/B1"}) == "yes");
  CHECK(comes_off(bench, {"S/B2"}) == "yes");
  CHECK(comes_off(bench, {"S/B1", "S/B2"}) == "no");
  CHECK(verdict_three_times(bench) == "buildable");
  SUBCASE("and one post that stands fast, whichever") {
    const FrameSpec one = loose_shelf(model::kFront, model::kBack, false, true);
    CHECK(comes_off(one, {"S/B2"}) == "yes");
    CHECK(comes_off(one, {"S/B1"}, {"S/B2"}) == "yes");
    CHECK(verdict_three_times(one) == "buildable");
  }
  SUBCASE("but the shelf cannot be pushed onto two that stand fast") {
    const FrameSpec both = loose_shelf(model::kFront, model::kBack, false, false);
    CHECK(comes_off(both, {"S/B1"}) == "no");
    CHECK(comes_off(both, {"S/B2"}) == "no");
    CHECK(comes_off(both, {"S/B1", "S/B2"}) == "no");
  }
}

TEST_CASE("slots toward edges that are square to each other, a board loose and a post loose") {
  const FrameSpec bench = loose_shelf(model::kFront, model::kRight, false, true);
  CHECK(comes_off(bench, {"S/B2"}) == "yes");
  CHECK(comes_off(bench, {"S/B1"}) == "yes");  // the shelf goes back and takes the loose post in its slot along
  CHECK(comes_off(bench, {"S/B1"}, {"S/B2"}) == "yes");
}

TEST_CASE("two posts under one rail are pushed into both slots in one move") {
  FrameSpec bench = wall_shelf(model::kFront, model::kFront, true, true);
  for (RunSpec& run : bench.runs) {
    run.parts.back().kind = "elbow";
    run.parts.back().toward = run.id == "stand 1" ? model::kRight : model::kLeft;
  }
  PartSpec rail;
  rail.id = "R";
  rail.kind = "pipe";
  rail.length = 400.0 - 2.0 * (33.274 - 8.61);  // centre to end and L1 of 3/4 (ASME B16.3 and B1.20.1)
  bench.runs.push_back({.id = "rail",
                        .from = LinkSpec{"K1", model::kRight, ""},
                        .at = {},
                        .go = {},
                        .parts = {rail},
                        .to = LinkSpec{"K2", model::kLeft, ""}});
  CHECK(comes_off(bench, {"S/B1", "S/B2"}) == "yes");
  CHECK(comes_off(bench, {"S/B1"}) == "no");
}

TEST_CASE("a loose post leaves the slot of a board that another post goes through") {
  FrameSpec bench = bench_on_floor("Potting board");
  bench.surfaces.push_back({"wall", model::kFront, 105.0});  // too near for the board to swing
  add(bench, Stand{.number = "1", .at = {0, 0, 0}});
  add(bench, Stand{.number = "2", .at = {400, 0, 0}, .loose = true});
  add(bench, Plank{.through = {"B1"}, .notches = {{"B2", model::kFront}}, .rests_on = {"C1", "C2"}, .right = 500});
  CHECK(comes_off(bench, {"S/B2"}) == "yes");
}

TEST_CASE("a swing needs the room until its slots are free, and no more") {
  // The slot is 100 deep and 400 from the hole; its stand, 26.67 across, is out when the board has turned by about
  // asin((100 + 13) / 400) = 16 degrees. The far corner at (500, 100) then is at most 100 cos 16 + 500 sin 16 = 234
  // back.
  const auto rack = [](double wall_at) {
    FrameSpec bench = bench_on_floor("Potting board");
    bench.surfaces.push_back({"wall", model::kFront, wall_at});
    add(bench, Stand{"1", {0, 0, 0}});
    add(bench, Stand{"2", {400, 0, 0}});
    add(bench, Plank{.through = {"B1"}, .notches = {{"B2", model::kFront}}, .rests_on = {"C1", "C2"}, .right = 500});
    return bench;
  };
  CHECK(comes_off(rack(600), {"S/B2"}) == "yes");  // room for the full circle of 510
  CHECK(comes_off(rack(300), {"S/B2"}) == "yes");
  CHECK(comes_off(rack(240), {"S/B2"}) == "yes");
  CHECK(comes_off(rack(220), {"S/B2"}) == "no");
  CHECK(comes_off(rack(110), {"S/B2"}) == "no");
  SUBCASE("a stake that the board would meet later on does not matter") {
    FrameSpec bench = rack(600);
    add_stake(bench, "9", {150, 350, 0}, 400);
    CHECK(comes_off(bench, {"S/B2"}) == "yes");
  }
  SUBCASE("one that it meets at once does") {
    FrameSpec bench = rack(600);
    add_stake(bench, "9", {420, 160, 0}, 400);
    CHECK(comes_off(bench, {"S/B2"}) == "no");
  }
}

/// A post of the shelf is drawn a foot too long, so that its slot is about the pipe below: the design does not close,
/// but the board still turns out of the slot as it does elsewhere, and needs the room.
TEST_CASE("a slot that another pipe of its post stands in lets go by the same turn") {
  const auto rack = [](double wall) {
    FrameSpec bench = bench_on_floor("Long post");
    bench.surfaces.push_back({"wall", model::kFront, wall});
    add(bench, Stand{.number = "1", .at = {0, 0, 0}});
    add(bench, Stand{.number = "2", .at = {300, 0, 0}, .lower = 500.0});
    add(bench, Plank{.through = {"B1"}, .notches = {{"B2", model::kBack}}, .rests_on = {"C1", "C2"}, .right = 400});
    return bench;
  };
  // By hand: the left back corner, 100 to the left and 100 behind the hole, swings out to 141 mm behind it.
  CHECK(comes_off(rack(300), {"S/B2"}) == "yes");
  CHECK(comes_off(rack(101), {"S/B2"}) == "no");
}

}  // namespace dryfit::test
