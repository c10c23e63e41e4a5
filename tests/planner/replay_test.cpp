#include "planner/replay.hpp"

#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "tests/support/given_steps.hpp"

using namespace dryfit;
using test::replayed;
using test::undo;
using test::workpiece;
using test::Workpiece;

namespace {

/// Two posts on the floor, a board trapped between two couplings of each, another under the caps.
Workpiece rack(const std::string& upper_pipe = "12") {
  return workpiece(R"(
dryfit: 1
name: Seed tray rack
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 6}
      - C1: coupling
      - P2: {pipe: 12}
      - C2: coupling
      - P3: {pipe: )" + upper_pipe + R"(}
      - K1: cap
  right post:
    from: floor
    at: [30, 0]
    parts:
      - FR: flange
      - P5: {pipe: 6}
      - C3: coupling
      - P6: {pipe: 12}
      - C4: coupling
      - P7: {pipe: )" + upper_pipe + R"(}
      - K2: cap
boards:
  S1: {through: [P2, P6], rests-on: [C1, C3], size: {x: 36, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
  S2: {through: [P3, P7], rests-on: [C2, C4], size: {x: 36, y: 8, z: 3/4}, reach: {left: 3, front: 4}}
)");
}

const std::vector<std::string> kRackOrder{
    "fasten FL/floor",    "fasten FR/floor",  "screw P1/FL.up",     "screw P5/FR.up",     "screw P1/C1.down",
    "screw P5/C3.down",   "screw P2/C1.up",   "screw P6/C3.up",     "slide S1/P2 S1/P6",  "screw P2/C2.down",
    "screw P6/C4.down",   "screw P3/C2.up",   "screw P7/C4.up",     "slide S2/P3 S2/P7",  "screw P3/K1.down",
    "screw P7/K2.down"};

std::vector<std::string> with(std::vector<std::string> lines, std::size_t number, const std::string& line) {
  lines[number - 1] = line;
  return lines;
}

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

TEST_CASE("an order that makes every contact by legal moves is legal") {
  CHECK(replayed(rack(), kRackOrder) == "legal");
  SUBCASE("screwing and fastening may come in one step, as may a slide and the screws after it") {
    CHECK(replayed(rack(), with(kRackOrder, 16, "screw P7/K2.down")) == "legal");
    std::vector<std::string> lines = kRackOrder;
    lines.erase(lines.begin() + 7, lines.begin() + 10);
    lines.insert(lines.begin() + 7, "slide S1/P2 S1/P6 P6/C3.up P2/C2.down");
    CHECK(replayed(rack(), lines) == "legal");
  }
}

TEST_CASE("the earliest bad step is reported, though the replay runs backwards") {
  const Workpiece piece = rack();
  CHECK(replayed(piece, with(with(kRackOrder, 5, "lay P1/C1.down"), 16, "lay P7/K2.down")) ==
        "step 5: lay takes a rest, and P1/C1.down is a thread");
  std::vector<planner::GivenStep> steps;
  for (const std::string& line : kRackOrder) steps.push_back(test::given_step(piece, line));
  std::swap(steps[8], steps[9]);
  std::swap(steps[13], steps[15]);
  const planner::ReplayResult result = planner::replay(piece.frame, piece.list, steps);
  CHECK_FALSE(result.legal);
  CHECK(result.first_bad_step == 10);
  CHECK(result.why ==
        "step 10: S1 cannot slide over P2: from above, C2 on its line is wider than its hole (1-29/64 in against "
        "1-1/8 in); from below, C1 on its line is wider than its hole (1-29/64 in against 1-1/8 in)");
}

TEST_CASE("every contact is made exactly once, by a step whose action fits") {
  const Workpiece piece = rack();
  SUBCASE("missing") {
    std::vector<std::string> lines = kRackOrder;
    lines.erase(lines.begin() + 14, lines.end());
    CHECK(replayed(piece, lines) == "no step makes P3/K1.down and P7/K2.down");
    std::vector<planner::GivenStep> none;
    CHECK(planner::replay(piece.frame, piece.list, none).first_bad_step == 1);
  }
  SUBCASE("twice") {
    CHECK(replayed(piece, with(kRackOrder, 5, "screw P1/FL.up")) == "step 5: P1/FL.up is made by step 3 already");
    CHECK(replayed(piece, with(kRackOrder, 3, "screw P1/FL.up P1/FL.up")) == "step 3: it names P1/FL.up twice");
  }
  SUBCASE("the wrong action") {
    CHECK(undo(piece, "screw S1/P2 S1/P6") == "screw takes a thread, and S1/P2 is a hole");
    CHECK(undo(piece, "slide P1/FL.up") == "slide takes a hole or a notch, and P1/FL.up is a thread");
    CHECK(undo(piece, "pass FL/floor") == "pass takes a hole or a notch, and FL/floor is a fastening");
    CHECK(undo(piece, "lay S1/P2") == "lay takes a rest, and S1/P2 is a hole");
    CHECK(undo(piece, "join P1/FL.up") == "join takes a nut, and P1/FL.up is a thread");
    CHECK(undo(piece, "fasten P1/FL.up") == "fasten takes a fastening, and P1/FL.up is a thread");
  }
  SUBCASE("nothing, or what does not exist") {
    const auto judged = [&](const planner::GivenStep& step) {
      std::string why;
      const std::vector<char> made(piece.list.contacts.size(), 1);
      CHECK_FALSE(planner::MoveJudge(piece.frame, piece.list).can_undo(made, step, &why));
      return why;
    };
    CHECK(judged({planner::Action::screw, {}, {}}) == "it makes no contact");
    CHECK(judged({planner::Action::screw, {-1}, {}}) == "contact number -1 does not exist");
    CHECK(judged({planner::Action::screw, {9999}, {}}) == "contact number 9999 does not exist");
    CHECK(judged({planner::Action::screw, {0}, {9999}}) == "part number 9999 does not exist");
    CHECK(planner::replay(piece.frame, piece.list, {{planner::Action::screw, {-1, 9999}, {}}}).why ==
          "step 1: contact number -1 does not exist");
  }
  SUBCASE("not made in the state that is asked about") {
    CHECK(undo(piece, "screw P3/K1.down", {"P3/K1.down"}) == "P3/K1.down is not made");
  }
}

TEST_CASE("neither side of a thread can turn while a ring holds both") {
  const std::string plain = "      - P3: {pipe: 24}\n";
  const std::string with_union =
      "      - P3: {pipe: 12}\n      - U1: union\n      - P5: {pipe: 10-63/64}\n";
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
  CHECK(undo(rack(), "screw P3/K1.down moving P3") ==
        "P3 cannot be screwed into K1 with P3 turning: P3 cannot turn, FL/floor holds it; "
        "it can be done with K1 turning instead");
  CHECK(undo(rack(), "screw P3/K1.down moving K1") == "legal");
  CHECK(undo(rack(), "screw P3/K1.down") == "legal");
  CHECK(undo(rack(), "screw P3/K1.down moving K1 P3") ==
        "P3 cannot be screwed into K1 with P3 turning: K1 is on the other side of the thread");
  CHECK(undo(rack(), "screw P3/K1.down moving K2", {"*S2", "P7/K2.down"}) ==
        "P3 cannot be screwed into K1 with K2 turning: not on either side of the thread");
}

namespace {

/// A post with an arm at 7 in; another post near it, or a wall behind it.
Workpiece arm(const std::string& surfaces, const std::string& other) {
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
      - P5: {pipe: )" + height + "}\n";
}

}  // namespace

TEST_CASE("what turns must clear the other piece, the room's piece and the surfaces") {
  const std::string swing_through =
      "P1 cannot be screwed into T1: P1 cannot turn, FL/floor holds it; turning T1 would swing P3 through P5";
  CHECK(undo(arm("", neighbour("12")), "screw P1/T1.down") == swing_through);
  CHECK(undo(arm("", neighbour("4")), "screw P1/T1.down") == "legal");
  SUBCASE("not a neighbour that is a piece of its own, nor one where nothing holds the post") {
    CHECK(undo(arm("", neighbour("12")), "screw P1/T1.down", {"FR/floor"}) == "legal");
    CHECK(undo(arm("", neighbour("12")), "screw P1/T1.down", {"FL/floor"}) == "legal");
  }
  SUBCASE("a wall") {
    CHECK(undo(arm("  wall: {normal: front, at: 4}\n", ""), "screw P1/T1.down") ==
          "P1 cannot be screwed into T1: P1 cannot turn, FL/floor holds it; turning T1 would swing P3 into the wall");
    CHECK(undo(arm("  wall: {normal: front, at: 12}\n", ""), "screw P1/T1.down") == "legal");
    CHECK(undo(arm("  wall: {normal: front, at: 4}\n", ""), "screw P1/T1.down", {"FL/floor"}) == "legal");
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
  TOP: {rests-on: [P3], size: {x: 8, y: 6, z: 3/4}, reach: {left: 4, front: 3})" + more + R"(}
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
  // between coupling and cap, 0.072 in more than the board is thick.
  CHECK(undo(rack("1-1/2"), "screw P2/C2.down") ==
        "P2 cannot be screwed into C2: P2 cannot turn, FL/floor holds it; turning C2 shifts it 11/32 in along its axis, "
        "but S2 gives way only 5/64 in before it meets C2 and K2");
  CHECK(undo(rack("2"), "screw P2/C2.down") == "legal");
  SUBCASE("a board that hangs on this pipe alone goes along") {
    CHECK(undo(rack("1-1/2"), "screw P2/C2.down", {"S2/P7"}) == "legal");
  }
  SUBCASE("the cap of the other post was what stopped it") {
    CHECK(undo(rack("1-1/2"), "screw P2/C2.down", {"P7/K2.down"}) == "legal");
  }
}

TEST_CASE("a board slides off when all that passes its holes is narrower, all its holes at once") {
  const Workpiece piece = rack();
  CHECK(undo(piece, "slide S2/P3 S2/P7", {"P3/K1.down", "P7/K2.down"}) == "legal");
  CHECK(undo(piece, "pass S2/P3 S2/P7", {"P3/K1.down", "P7/K2.down"}) == "legal");
  CHECK(undo(piece, "slide S2/P3 S2/P7", {"P3/K1.down"}) ==
        "S2 cannot slide over P3: from above, K2 on its line is wider than its hole (1-29/64 in against 1-1/8 in); "
        "from below, C2 on its line is wider than its hole (1-29/64 in against 1-1/8 in)");
  CHECK(undo(piece, "slide S2/P3", {"P3/K1.down", "P7/K2.down"}) ==
        "S2 cannot slide over P3 alone: the same move makes S2/P7, which the step does not name");
  SUBCASE("a post that nothing else holds passes out of its boards") {
    CHECK(undo(piece, "pass S2/P3", {"P3/K1.down", "P3/C2.up"}) == "legal");
    CHECK(undo(piece, "pass S2/P3 P3/C2.up", {"P3/K1.down"}) == "legal");
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
  wall: {normal: left, at: )" + wall_at + R"(}
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
      - P5: {pipe: )" + height + R"(}
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
    CHECK(undo(bracket(", hole: 27 mm"), "slide S1/P2", {"P2/C2.down", "S1/wall"}) ==
          "S1 cannot slide over P2: from above, P2 is too tight in its hole (1-3/64 in against 1-1/16 in); "
          "from below, C1 on its line is wider than its hole (1-29/64 in against 1-1/16 in)");
  }
}

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
  wall: {normal: front, at: )" + wall + R"(}
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
    at: )" + at + R"(
    parts:
      - FX: flange
      - P9: {pipe: 18}
)";
}

}  // namespace

TEST_CASE("a board with notches alone comes on from the side against which they are open") {
  const std::string front = "notch: {P2: front, P6: front}";
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
  CHECK(undo(notched(board, "12", ""), "slide S1/P6") ==
        "S1 cannot slide over P6 alone: the same move makes S1/P2, which the step does not name; "
        "S1 cannot swing into its notches about P2: the wall would be in its way");
  CHECK(undo(notched(board, "40", third_post("[15, 15]")), "slide S1/P6").find("about P2: P9 would be in its way") !=
        std::string::npos);
  CHECK(undo(notched(board, "40", third_post("[15, -15]")), "slide S1/P6") == "legal");
  SUBCASE("a slot toward the hole does not let go") {
    CHECK(undo(notched("through: [P2], notch: {P6: left}", "40", ""), "slide S1/P6") !=
          "legal");
  }
  SUBCASE("swung aside it slides off its hole past the cap of the other post") {
    CHECK(undo(notched(board, "40", ""), "slide S1/P2 S1/P6", {"P2/K1.down"}) == "legal");
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
      - P2: {pipe: )" + upper + R"(}
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
      - P6: {pipe: )" + upper + R"(}
      - T4: {tee: left}
)" + fence + R"(
boards:
  TOP: {rests-on: [P3], size: {x: 12, y: 6, z: 3/4}, reach: {left: 6, front: 3})" + strap + R"(}
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
    CHECK(undo(table("12", strap, ""), "lay TOP/P3 TOP/P3 strap", {"LID/TOP"}) == "legal");
    CHECK(undo(table("12", strap, ""), "fasten TOP/P3 strap") == "legal");
  }
  SUBCASE("under a low rail it comes out by the front, until something stands there too") {
    CHECK(undo(table("1-1/2", "", ""), "lay TOP/P3", {"LID/TOP"}) == "legal");
    CHECK(undo(table("12", "", fence), "lay TOP/P3", {"LID/TOP"}) == "legal");
    CHECK(undo(table("1-1/2", "", fence), "lay TOP/P3", {"LID/TOP"}) ==
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
  CHECK(undo(piece, "lay TOP/K1") ==
        "TOP cannot be laid: the same move makes TOP/K2, which the step does not name");
}

TEST_CASE("one move can be judged without a judge at hand") {
  const Workpiece piece = rack();
  const std::vector<char> made(piece.list.contacts.size(), 1);
  std::string why = "?";
  CHECK(planner::replay_move_is_legal(piece.frame, piece.list, made, planner::Action::screw,
                                      {piece.list.find("P3/K1.down")}, &why));
  CHECK(why.empty());
  CHECK_FALSE(planner::replay_move_is_legal(piece.frame, piece.list, made, planner::Action::slide,
                                            {piece.list.find("S1/P2"), piece.list.find("S1/P6")}, &why));
  CHECK(why.find("S1 cannot slide over P2: ") == 0);
}
