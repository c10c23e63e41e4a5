#include "planner/judge/replay.hpp"

#include <string>

#include <doctest/doctest.h>

#include "tests/support/frames/given_steps.hpp"

using namespace dryfit;
using test::tray_rack;
using test::undo;
using test::workpiece;
using test::Workpiece;

namespace {

/// A rectangle of four pipes; the top one cut in two by `top`.
Workpiece ring(const std::string& top) {
  return workpiece(R"(
dryfit: 1
name: Clothes airer hoop
units: in
pipe: {standard: npt, size: 3/4}
runs:
  hoop:
    at: [0, 0, 0]
    go: right
    parts:
      - P1: {pipe: 24}
      - E1: {elbow: up}
      - P2: {pipe: 12}
      - E2: {elbow: left}
)" + top + R"(
      - E3: {elbow: down}
      - P4: {pipe: 12}
      - E4: {elbow: right}
    to: P1.start
)");
}

}  // namespace

TEST_CASE("neither side of a thread can turn while a ring holds both") {
  const std::string plain = "      - P3: {pipe: 24}\n";
  const std::string with_union = "      - P3: {pipe: 12}\n      - U1: union\n      - P5: {pipe: 10-63/64}\n";
  CHECK(undo(ring(plain), "screw P4/E3.down") ==
        "P4 cannot be screwed into E3: neither side of P4/E3.down can turn, both are held together through "
        "E4, P1, E1, P2, E2 and P3");
  CHECK(undo(ring(with_union), "screw P4/E3.down").find("through E4, P1, E1, P2, E2, P3, U1 and P5") !=
        std::string::npos);
  SUBCASE("an undone nut opens it") {
    CHECK(undo(ring(with_union), "join U1") == "legal");
    CHECK(undo(ring(with_union), "screw P1/E1.left", {"U1"}) == "legal");
    CHECK(undo(ring(with_union), "screw P1/E1.left") != "legal");
  }
}

TEST_CASE("the side that holds the room does not turn") {
  CHECK(undo(tray_rack(), "screw P3/K1.down moving P3") ==
        "P3 cannot be screwed into K1 with P3 turning: P3 cannot turn, FL/floor holds it; "
        "it can be done with K1 turning instead");
  CHECK(undo(tray_rack(), "screw P3/K1.down moving K1") == "legal");
  CHECK(undo(tray_rack(), "screw P3/K1.down") == "legal");
  CHECK(undo(tray_rack(), "screw P3/K1.down moving K1 P3") ==
        "P3 cannot be screwed into K1 with P3 turning: K1 is on the other side of the thread");
  CHECK(undo(tray_rack(), "screw P3/K1.down moving K2", {"*S2", "P7/K2.down"}) ==
        "P3 cannot be screwed into K1 with K2 turning: not on either side of the thread");
}

namespace {

/// A post with an arm at 7 in; another post near it, or a wall behind it.
Workpiece arm_over(const std::string& surfaces, const std::string& other) {
  return workpiece(R"(
dryfit: 1
name: Lantern post
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
)" + surfaces + R"(
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 6}
      - T1: {tee: right}
      - P2: {pipe: 12}
  arm:
    from: T1.right
    parts:
      - P3: {pipe: 8}
      - K3: cap
)" + other);
}

std::string neighbour(const std::string& height) {
  return R"(
  neighbour:
    from: floor
    at: [0, 6]
    parts:
      - FR: flange
      - P5: {pipe: )" +
         height + "}\n";
}

}  // namespace

TEST_CASE("what turns must clear the other piece, the room's piece and the surfaces") {
  const std::string swing_through =
      "P1 cannot be screwed into T1: P1 cannot turn, FL/floor holds it; turning T1 would swing P3 through P5";
  CHECK(undo(arm_over("", neighbour("12")), "screw P1/T1.down") == swing_through);
  CHECK(undo(arm_over("", neighbour("4")), "screw P1/T1.down") == "legal");
  SUBCASE("not a neighbour that is a piece of its own, nor one where nothing holds the post") {
    CHECK(undo(arm_over("", neighbour("12")), "screw P1/T1.down", {"FR/floor"}) == "legal");
    CHECK(undo(arm_over("", neighbour("12")), "screw P1/T1.down", {"FL/floor"}) == "legal");
  }
  SUBCASE("a wall") {
    CHECK(undo(arm_over("  wall: {normal: front, at: 4}\n", ""), "screw P1/T1.down") ==
          "P1 cannot be screwed into T1: P1 cannot turn, FL/floor holds it; turning T1 would swing P3 into the wall");
    CHECK(undo(arm_over("  wall: {normal: front, at: 12}\n", ""), "screw P1/T1.down") == "legal");
    CHECK(undo(arm_over("  wall: {normal: front, at: 4}\n", ""), "screw P1/T1.down", {"FL/floor"}) == "legal");
  }
}

namespace {

/// A rail out of a post, with a board laid on it.
Workpiece laid_on_rail(const std::string& more) {
  return workpiece(R"(
dryfit: 1
name: Boot rail
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 12}
      - T1: {tee: right}
      - P2: {pipe: 4}
      - K1: cap
  rail:
    from: T1.right
    parts:
      - P3: {pipe: 20}
      - K3: cap
boards:
  TOP: {rests-on: [P3], size: {x: 8, y: 6, z: 3/4}, reach: {left: 4, front: 3})" +
                   more + R"(}
  LID: {rests-on: [K1], size: {x: 4, y: 4, z: 3/4}, reach: {left: 2, front: 2}}
)");
}

}  // namespace

TEST_CASE("a laid board that nothing fastens does not turn about a level axis") {
  CHECK(undo(laid_on_rail(""), "screw P3/T1.right") ==
        "P3 cannot be screwed into T1: turning P3 would throw off TOP, which lies loose; "
        "T1 cannot turn, FL/floor holds it");
  CHECK(undo(laid_on_rail(", strap: {P3: 2}"), "screw P3/T1.right") == "legal");
  CHECK(undo(laid_on_rail(""), "screw P3/T1.right", {"TOP/P3"}) == "legal");
  SUBCASE("about an upright axis it lies on") {
    CHECK(undo(laid_on_rail(""), "screw P2/K1.down") == "legal");
    CHECK(undo(laid_on_rail(""), "screw P2/K1.down moving K1 LID") == "legal");
  }
}

TEST_CASE("a board round a pipe that is screwed must float as far as the thread is long") {
  // Hand-tight engagement of 3/4 NPT is 0.339 in (ASME B1.20.1, L1): P3 of 1-1/2 in leaves 1-1/2 - 2 x 0.339 = 0.822 in
  // between coupling and cap, 0.072 in more than the board is thick. In sixty-fourths 21.7 and 4.6.
  CHECK(
      undo(tray_rack("1-1/2"), "screw P2/C2.down") ==
      "P2 cannot be screwed into C2: P2 cannot turn, FL/floor holds it; turning C2 shifts it 11/32 in along its axis, "
      "but S2 gives way only 5/64 in before it meets C2 and K2");
  CHECK(undo(tray_rack("2"), "screw P2/C2.down") == "legal");
  SUBCASE("a board that was slid off both posts, which it leaves at once, is in nobody's way") {
    CHECK(undo(tray_rack("1-1/2"), "screw P2/C2.down", {"S2/P3", "S2/P7"}) == "legal");
    CHECK(undo(tray_rack("1-1/2"), "screw P2/C2.down", {"S2/P7"}) != "legal");
  }
  SUBCASE("the cap of the other post was what stopped it") {
    CHECK(undo(tray_rack("1-1/2"), "screw P2/C2.down", {"P7/K2.down"}) == "legal");
  }
}
