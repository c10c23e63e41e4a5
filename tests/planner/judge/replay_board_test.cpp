#include "planner/judge/replay.hpp"

#include <string>

#include <doctest/doctest.h>

#include "tests/support/frames/given_steps.hpp"

using namespace dryfit;
using test::undo;
using test::workpiece;
using test::Workpiece;

namespace {

/// Two capped posts and a notched board; `more` is a third post or nothing, `wall` where the wall stands.
Workpiece notched(const std::string& board, const std::string& wall, const std::string& more) {
  return workpiece(R"(
dryfit: 1
name: Potting bench
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: )" +
                   wall + R"(}
runs:
  left post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 12}
      - C1: coupling
      - P2: {pipe: 6}
      - K1: cap
  right post:
    from: floor
    at: [30, 0]
    parts:
      - FR: flange
      - P5: {pipe: 12}
      - C3: coupling
      - P6: {pipe: 6}
      - K2: cap
)" + more + R"(
boards:
  S1: {)" + board + R"(, rests-on: [C1, C3], size: {x: 36, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
)");
}

std::string third_post(const std::string& at) {
  return R"(
  third post:
    from: floor
    at: )" +
         at + R"(
    parts:
      - FX: flange
      - P9: {pipe: 18}
)";
}

}  // namespace

TEST_CASE("a board with notches alone comes on from the side against which they are open") {
  const std::string front = "notch: {P2: front, P6: front}";
  // The band of 3/4, 1.458 in from memory, is 93.3 sixty-fourths; the bit for its pipe of 1.050 in is 1-1/8.
  const std::string wide = " on its line is wider than its notch (1-29/64 in against 1-1/8 in)";
  const std::string stuck = "S1 cannot slide over P2: from above, K1" + wide + "; from below, C1" + wide + "; ";
  CHECK(undo(notched(front, "30", ""), "slide S1/P2 S1/P6") == "legal");
  CHECK(undo(notched(front, "4", ""), "slide S1/P2 S1/P6") ==
        stuck + "S1 cannot come on sideways from the back: the wall would be in its way");
  CHECK(undo(notched(front, "30", third_post("[15, 6]")), "slide S1/P2 S1/P6") ==
        stuck + "S1 cannot come on sideways from the back: P9 would be in its way");
  CHECK(undo(notched(front, "30", third_post("[15, 6]")), "slide S1/P2 S1/P6", {"FX/floor"}) == "legal");
  CHECK(undo(notched("notch: {P2: front, P6: back}", "30", ""), "slide S1/P2 S1/P6") ==
        stuck + "S1 cannot come on sideways: its notches are open to different sides");
  CHECK(undo(notched(front, "30", ""), "slide S1/P2") ==
        "S1 cannot slide over P2 alone: the same move makes S1/P6, which the step does not name; "
        "S1 cannot come on sideways: the same move makes S1/P6, which the step does not name");
}

TEST_CASE("a board with one hole swings into its notches, the way that they open") {
  const std::string board = "through: [P2], notch: {P6: front}";
  CHECK(undo(notched(board, "40", ""), "slide S1/P6") == "legal");
  // The slot is open to the front, so the right end of the board goes back, round P2 on the left.
  // Its slot is 4 in deep and 30 in from P2, the pipe 1.05 in across: it is free after asin(4.525 / 30) = 8.7 degrees,
  // and by then the far corner, at 33 and 4 in, has come back to 4 cos 8.7 + 33 sin 8.7 = 8.9 in.
  CHECK(undo(notched(board, "9", ""), "slide S1/P6") == "legal");
  CHECK(undo(notched(board, "8", ""), "slide S1/P6") ==
        "S1 cannot slide over P6 alone: the same move makes S1/P2, which the step does not name; "
        "S1 cannot swing into its notches about P2: the wall would be in its way");
  CHECK(undo(notched(board, "40", third_post("[15, 15]")), "slide S1/P6") == "legal");
  CHECK(undo(notched(board, "40", third_post("[15, 6]")), "slide S1/P6").find("about P2: P9 would be in its way") !=
        std::string::npos);
  CHECK(undo(notched(board, "40", third_post("[15, -6]")), "slide S1/P6") == "legal");
  SUBCASE("a slot toward the hole does not let go") {
    CHECK(undo(notched("through: [P2], notch: {P6: left}", "40", ""), "slide S1/P6") != "legal");
  }
  SUBCASE("swung aside it slides off its hole past the cap of the other post") {
    // Swung and slid are two moves.
    CHECK(undo(notched(board, "40", ""), "slide S1/P2 S1/P6", {"P2/K1.down"}) != "legal");
    CHECK(undo(notched(board, "40", ""), "slide S1/P6", {"P2/K1.down"}) == "legal");
    CHECK(undo(notched(board, "40", ""), "slide S1/P2", {"P2/K1.down", "S1/P6"}) == "legal");
    CHECK(undo(notched("through: [P2, P6]", "40", ""), "slide S1/P2 S1/P6", {"P2/K1.down"}) != "legal");
    CHECK(undo(notched(board, "12", ""), "slide S1/P2 S1/P6", {"P2/K1.down"}) != "legal");
  }
}

TEST_CASE("a laid board is taken up by two inches or along an edge, with nothing on it or fastened to it") {
  const auto table = [](const std::string& upper, const std::string& strap, const std::string& fence) {
    return workpiece(R"(
dryfit: 1
name: Work table
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 6}
runs:
  left post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 12}
      - T1: {tee: right}
      - P2: {pipe: )" +
                     upper + R"(}
      - T3: {tee: right}
  rail:
    from: T1.right
    parts:
      - P3: {pipe: 24}
    to: T2.left
  upper rail:
    from: T3.right
    parts:
      - P7: {pipe: 24}
    to: T4.left
  right post:
    from: floor
    parts:
      - FR: flange
      - P5: {pipe: 12}
      - T2: {tee: left}
      - P6: {pipe: )" +
                     upper + R"(}
      - T4: {tee: left}
)" + fence + R"(
boards:
  TOP: {rests-on: [P3], size: {x: 12, y: 6, z: 3/4}, reach: {left: 6, front: 3})" +
                     strap + R"(}
  LID: {rests-on: [TOP], size: {x: 6, y: 6, z: 1/4}, reach: {left: 3, front: 3}}
)");
  };
  const std::string strap = ", strap: {P3: 2}";
  const std::string fence = R"(
  fence:
    from: floor
    at: [14, -6]
    parts:
      - FX: flange
      - P9: {pipe: 24}
)";
  CHECK(undo(table("12", "", ""), "lay TOP/P3", {"LID/TOP"}) == "legal");
  CHECK(undo(table("12", "", ""), "lay LID/TOP") == "legal");
  CHECK(undo(table("12", "", ""), "lay TOP/P3") == "TOP cannot be laid: LID already lies on it");
  SUBCASE("a strap holds it") {
    CHECK(undo(table("12", strap, ""), "lay TOP/P3", {"LID/TOP"}) ==
          "TOP cannot be laid: TOP/P3 strap already holds it");
    CHECK(undo(table("12", strap, ""), "lay TOP/P3", {"LID/TOP", "TOP/P3 strap"}) == "legal");
    CHECK(undo(table("12", strap, ""), "lay TOP/P3 TOP/P3 strap", {"LID/TOP"}) ==
          "lay takes a rest, and TOP/P3 strap is a fastening");
    CHECK(undo(table("12", strap, ""), "fasten TOP/P3 strap") == "legal");
  }
  SUBCASE("under a low rail it comes out by the front, until something stands there too") {
    CHECK(undo(table("1-1/2", "", ""), "lay TOP/P3", {"LID/TOP"}) == "legal");
    CHECK(undo(table("12", "", fence), "lay TOP/P3", {"LID/TOP"}) == "legal");
    CHECK(
        undo(table("1-1/2", "", fence), "lay TOP/P3", {"LID/TOP"}) ==
        "TOP cannot be laid: from above, P7 would be in its way; from the right, T2 and P6; from the left, T1 and P2; "
        "from the back, the wall; from the front, P9");
    CHECK(undo(table("1-1/2", "", fence), "lay TOP/P3", {"LID/TOP", "FX/floor"}) == "legal");
  }
}

TEST_CASE("a board on two carriers leaves both at once") {
  const Workpiece piece = workpiece(R"(
dryfit: 1
name: Plank on two stakes
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 12}
      - K1: cap
  right:
    from: floor
    at: [24, 0]
    parts:
      - FR: flange
      - P2: {pipe: 12}
      - K2: cap
boards:
  TOP: {rests-on: [K1, K2], size: {x: 30, y: 6, z: 3/4}, reach: {left: 3, front: 3}}
)");
  CHECK(undo(piece, "lay TOP/K1 TOP/K2") == "legal");
  CHECK(undo(piece, "lay TOP/K1") == "TOP cannot be laid: the same move makes TOP/K2, which the step does not name");
}
