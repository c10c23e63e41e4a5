#include "planner/judge/replay.hpp"

#include <string>

#include <doctest/doctest.h>

#include "tests/support/frames/given_steps.hpp"

using namespace dryfit;
using test::tray_rack;
using test::undo;
using test::workpiece;
using test::Workpiece;

// The band of 3/4, 1.458 in from memory, is 93.3 sixty-fourths or 1-29/64; the bit for its pipe of 1.050 in is 1-1/8.
TEST_CASE("a board slides off when all that passes its holes is narrower, all its holes at once") {
  const Workpiece piece = tray_rack();
  CHECK(undo(piece, "slide S2/P3 S2/P7", {"P3/K1.down", "P7/K2.down"}) == "legal");
  CHECK(undo(piece, "pass S2/P3 S2/P7", {"P3/K1.down", "P7/K2.down"}) == "legal");
  CHECK(undo(piece, "slide S2/P3 S2/P7", {"P3/K1.down"}) ==
        "S2 cannot slide over P3: from above, K2 on its line is wider than its hole (1-29/64 in against 1-1/8 in); "
        "from below, C2 on its line is wider than its hole (1-29/64 in against 1-1/8 in)");
  CHECK(undo(piece, "slide S2/P3", {"P3/K1.down", "P7/K2.down"}) ==
        "S2 cannot slide over P3 alone: the same move makes S2/P7, which the step does not name");
  SUBCASE("a post that nothing else holds passes out of its boards") {
    CHECK(undo(piece, "pass S2/P3", {"P3/K1.down", "P3/C2.up"}) == "legal");
    CHECK(undo(piece, "screw P3/C2.up S2/P3", {"P3/K1.down"}) == "legal");
    CHECK(undo(piece, "pass S2/P3", {"P3/K1.down"}) ==
          "S2 cannot slide over P3 alone: the same move makes S2/P7, which the step does not name");
    CHECK(undo(piece, "pass S2/P3", {"P3/C2.up"}) == "legal");
    CHECK(undo(piece, "screw P2/C2.down S2/P3") ==
          "P3 cannot pass through S2: from above, C2 on its line is wider than the hole in S2 (1-29/64 in against "
          "1-1/8 in); from below, K1 on its line is wider than the hole in S2 (1-29/64 in against 1-1/8 in)");
  }
}

TEST_CASE("a board that slides must clear what is beside its pipes, and the surfaces") {
  const auto shelf = [](const std::string& height, const std::string& wall_at) {
    return workpiece(R"(
dryfit: 1
name: Coat hook rail
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: left, at: )" +
                     wall_at + R"(}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 24}
      - T1: {tee: right}
  rail:
    from: T1.right
    parts:
      - P3: {pipe: 12}
  peg:
    from: floor
    at: [10, 0]
    parts:
      - FR: flange
      - P5: {pipe: )" +
                     height + R"(}
boards:
  S1: {through: [P3], rests-on: [T1], size: {x: 3/4, y: 6, z: 6}, reach: {front: 3, down: 3}, facing: right}
)");
  };
  CHECK(undo(shelf("12", "30"), "slide S1/P3") == "legal");
  CHECK(undo(shelf("23", "30"), "slide S1/P3") ==
        "S1 cannot slide over P3: from the right, it would run into P5; from the left, "
        "T1 on its line is wider than its hole (1-29/64 in against 1-1/8 in)");
  CHECK(undo(shelf("23", "30"), "slide S1/P3", {"FR/floor"}) == "legal");
  CHECK(undo(shelf("12", "13-1/2"), "slide S1/P3") ==
        "S1 cannot slide over P3: from the right, it would run into the wall; from the left, "
        "T1 on its line is wider than its hole (1-29/64 in against 1-1/8 in)");
  CHECK(undo(shelf("12", "13-1/2"), "slide S1/P3", {"FL/floor"}) == "legal");
}

TEST_CASE("a board that is screwed on holds what goes through it") {
  const auto bracket = [](const std::string& hole) {
    return workpiece(R"(
dryfit: 1
name: Downpipe bracket
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 4}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 6}
      - C1: coupling
      - P2: {pipe: 12}
      - C2: coupling
      - P3: {pipe: 6}
boards:
  S1: {through: [P2], rests-on: [C1], size: {x: 8, y: 8, z: 3/4}, reach: {left: 4, front: 4}, fix: [wall])" +
                     hole + R"(}
)");
  };
  CHECK(undo(bracket(""), "screw P2/C1.up S1/P2", {"P2/C2.down"}) == "legal");
  // L1 of 3/4, 0.339 in, is 21.7 sixty-fourths, 11/32.
  const std::string held =
      "turning C1 shifts it 11/32 in along its axis, but S1, held by S1/wall, gives way only 0 in before it meets C1";
  CHECK(undo(bracket(""), "screw P1/C1.down", {"FL/floor"}) ==
        "P1 cannot be screwed into C1: turning P1 would swing FL into the floor; " + held);
  // The pipe alone ends 0.75 - 0.339 in above the floor and has 0.339 in to come down.
  CHECK(undo(bracket(""), "screw P1/C1.down", {"*FL"}) == "legal");
  CHECK(undo(bracket(""), "screw P1/C1.down moving C1", {"*FL"}) ==
        "P1 cannot be screwed into C1 with C1 turning: " + held + "; it can be done with P1 turning instead");
  CHECK(undo(bracket(""), "screw P1/C1.down moving C1", {"FL/floor", "S1/wall"}) == "legal");
  CHECK(undo(bracket(""), "slide S1/P2", {"P2/C2.down"}) ==
        "S1 cannot slide over P2: both are held together through the wall, the floor, FL, P1 and C1");
  SUBCASE("a hole that is tight on its own pipe") {
    // The pipe's 1.050 in are 67.2 sixty-fourths, 27 mm are 68.03.
    CHECK(undo(bracket(", hole: 27 mm"), "slide S1/P2", {"P2/C2.down", "S1/wall"}) ==
          "S1 cannot slide over P2: from above, P2 is too tight in its hole (1-3/64 in against 1-1/16 in: "
          "about 1/64 in of play, and it takes just over 1/64 in); "
          "from below, C1 on its line is wider than its hole (1-29/64 in against 1-1/16 in)");
  }
}

TEST_CASE("a carrier that stands a little high is left behind, not passed") {
  // The right post comes out 1.8 mm higher, which a turn of its threads would level: 12 + 12 in + 110 mm of pipe and
  // two couplings of 1.67 - 2 x 0.400 in against 30 in. The band of 1, 1.771 in from memory, is 113.3 sixty-fourths.
  const Workpiece piece = workpiece(R"(
dryfit: 1
name: Bread cooling rack
units: in
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 30}
      - C1: coupling
      - P2: {pipe: 6}
      - K1: cap
  right post:
    from: floor
    at: [30, 0]
    parts:
      - FR: flange
      - P5: {pipe: 12}
      - C5: coupling
      - P6: {pipe: 12}
      - C6: coupling
      - P7: {pipe: 110 mm}
      - C3: coupling
      - P8: {pipe: 6}
      - K2: cap
boards:
  S1: {through: [P2, P8], rests-on: [C1, C3], size: {x: 36, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
  TOP: {rests-on: [K1, K2], size: {x: 36, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
)");
  CHECK(undo(piece, "lay TOP/K1 TOP/K2") == "legal");
  CHECK(undo(piece, "slide S1/P2 S1/P8", {"*TOP", "P2/K1.down", "P8/K2.down"}) == "legal");
  CHECK(undo(piece, "slide S1/P2 S1/P8", {"*TOP", "P2/K1.down"}) ==
        "S1 cannot slide over P2: from above, K2 on its line is wider than its hole (1-49/64 in against 1-3/8 in); "
        "from below, C1 on its line is wider than its hole (1-49/64 in against 1-3/8 in)");
}
