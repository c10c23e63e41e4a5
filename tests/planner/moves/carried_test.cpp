/// What a turn carries along: frames by hand whose truth a fitter knows, put to the search, the judge and the oracle.
/// A thread of 3/4 NPT is 0.339 in = 8.61 mm long by hand (ASME B1.20.1, L1): so far goes what turns, and what it
/// takes.
#include <doctest/doctest.h>

#include "tests/support/voices/three_voices.hpp"

namespace dryfit::test {
namespace {

using Bench = ThreeVoices;

std::string mm(double length) { return std::to_string(length) + " mm"; }

/// A herb pole from the floor with a shelf S1 that hangs on it alone, on the coupling C1. `more` are further runs,
/// `boards` further boards.
std::string pole(const std::string& more = "", const std::string& boards = "", const std::string& surfaces = "") {
  return R"(dryfit: 1
units: mm
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 150}
)" + surfaces +
         R"(runs:
  pole:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 300}
      - C1: coupling
      - P2: {pipe: 400}
      - C2: coupling
      - P3: {pipe: 100}
)" + more +
         R"(boards:
  S1: {through: [P2], rests-on: [C1], size: {x: 400, y: 200, z: 19}, reach: {left: 200, front: 100}}
)" + boards;
}

/// A bracket board screwed to the wall, its underside so far above `top`, behind the pole.
std::string bracket(double underside) {
  return "  W1: {height: " + mm(underside) + ", at: [-100, 60], size: {x: 200, y: 90, z: 19}, fix: [wall]}\n";
}

double top_of(const std::string& text, const std::string& id) { return Bench(text).board(id).hi.z; }

}  // namespace

TEST_CASE("a shelf that rises with the turning pole stops it at a board that is screwed to the wall above") {
  const double top = top_of(pole(), "S1");
  // Everything from P1 on turns and rises 8.6 mm; C1 takes the shelf along at once.
  for (const auto& [gap, truth] : {std::pair{2.5, "no"}, {7.0, "no"}, {9.5, "yes"}, {20.0, "yes"}}) {
    CAPTURE(gap);
    Bench b(pole("", bracket(top + gap)));
    CHECK(b.undoes("P1/FL.up") == truth);
    CHECK(b.undoes("P1/C1.down") == truth);
    // P2 leaves C1 upward: C1 stays, and nothing of what rises is under the shelf.
    CHECK(b.undoes("P2/C1.up") == "yes");
    CHECK(b.undoes("P2/C2.down") == "yes");
    // The bracket off the wall is a thing of its own, and so is the pole off the floor.
    CHECK(b.undoes("P1/FL.up", {"W1/wall"}) == "yes");
    CHECK(b.undoes("P1/FL.up", {"FL/floor"}) == "yes");
    // The shelf taken off.
    CHECK(b.undoes("P1/FL.up", {"S1/P2"}) == "yes");
  }
}

TEST_CASE("a tray that lies on the shelf goes along") {
  const double top = top_of(pole(), "S1");
  const auto with_tray = [&](double gap) {
    return pole("", "  TRAY: {rests-on: [S1], size: {x: 150, y: 60, z: 30}, at: [30, 30]}\n" + bracket(top + 30 + gap));
  };
  Bench near(with_tray(4)), far(with_tray(12));
  CHECK(near.undoes("P1/FL.up") == "no");
  CHECK(far.undoes("P1/FL.up") == "yes");
  CHECK(near.undoes("P1/FL.up", {"TRAY/S1"}) == "yes");
}

TEST_CASE("a hook that hangs in a hole of the shelf goes along, and the cap that holds it meets what is above") {
  // The cap's rim lies on the shelf; its closed end is 0.97 in = 24.6 mm above it, 16 more than the shelf has to rise.
  const double cap = top_of(pole(), "S1") + 0.97 * 25.4;
  const auto with_hook = [&](double gap) {
    std::string text =
        pole("  hook:\n    at: [150, 80, " + mm(cap) +
                 "]\n    go: down\n    parts:\n      - HC: cap\n      - H1: {pipe: 150}\n",
             "  W1: {height: " + mm(cap + gap) + ", at: [100, 60], size: {x: 100, y: 90, z: 19}, fix: [wall]}\n");
    const std::string alone = "through: [P2]";
    return text.replace(text.find(alone), alone.size(), "through: [P2, H1]");
  };
  Bench near(with_hook(4)), far(with_hook(12));
  CHECK(near.undoes("P1/FL.up") == "no");
  CHECK(far.undoes("P1/FL.up") == "yes");
  CHECK(near.undoes("P1/FL.up", {"S1/H1"}) == "yes");
  // The cap comes off the hook whatever is above: its own turn goes up by 8.6 mm.
  CHECK(near.undoes("H1/HC.down") == "yes");
  CHECK(near.undoes("P1/FL.up", {"H1/HC.down"}) == "yes");
}

TEST_CASE("a towel arm that is screwed under the shelf goes along, and meets a rail that the wall holds") {
  const std::string arm =
      "  arm:\n    from: S1.down\n    at: [380, 100]\n    parts:\n      - FA: flange\n      - A1: {pipe: 100}\n"
      "      - AE: {elbow: right}\n      - A2: {pipe: 250}\n";
  const double height = Bench(pole(arm)).part("AE").centre.z;
  // The pipes are 1.050 in = 26.67 mm across (ASME B36.10), and the rail crosses over the arm.
  const auto with_rail = [&](double gap) {
    return pole(arm + "  rail:\n    from: wall\n    at: [350, " + mm(height + 26.67 + gap) +
                "]\n    parts:\n      - FW: flange\n      - B1: {pipe: 250}\n");
  };
  Bench near(with_rail(4)), far(with_rail(12));
  CHECK(near.undoes("P1/FL.up") == "no");
  CHECK(far.undoes("P1/FL.up") == "yes");
  CHECK(near.undoes("P1/FL.up", {"FA/S1"}) == "yes");
  CHECK(near.undoes("P1/FL.up", {"A2/AE.right"}) == "yes");
}

TEST_CASE("a board that floats carries only what its play leaves of the thread") {
  // A second post holds the shelf at CR; C1 on the pole stands 5 mm lower, so that it rises 5 of its 8.6 mm alone.
  const auto rack = [&](double underside) {
    return R"(dryfit: 1
units: mm
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 150}
runs:
  post:
    from: floor
    at: [300, 0]
    parts:
      - FR: flange
      - R1: {pipe: 305}
      - CR: coupling
      - R2: {pipe: 400}
  pole:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 300}
      - C1: coupling
      - P2: {pipe: 400}
boards:
  S1: {through: [R2, P2], rests-on: [CR], size: {x: 500, y: 200, z: 19}, reach: {right: 100, front: 100}}
)" + (underside > 0 ? bracket(underside) : "");
  };
  const double top = top_of(rack(0), "S1");
  CHECK(Bench(rack(0)).undoes("P1/FL.up") == "yes");
  CHECK(Bench(rack(top + 2)).undoes("P1/FL.up") == "no");     // 5 + 2 < 8.1
  CHECK(Bench(rack(top + 4.5)).undoes("P1/FL.up") == "yes");  // 5 + 4.5 > 8.6
  CHECK(Bench(rack(top + 2)).undoes("R1/FR.up") == "no");
  CHECK(Bench(rack(top + 9.5)).undoes("R1/FR.up") == "yes");
}

TEST_CASE("one board pushes the next") {
  const double top = top_of(pole(), "S1");
  const auto two = [&](double gap) {
    return pole("", "  S2: {through: [P2], height: " + mm(top + 2) +
                        ", size: {x: 100, y: 180, z: 30}, reach: {left: 50, front: 50}}\n" + bracket(top + 32 + gap));
  };
  CHECK(Bench(two(4)).undoes("P1/FL.up") == "no");   // 2 + 4 < 8.1
  CHECK(Bench(two(8)).undoes("P1/FL.up") == "yes");  // 2 + 8 > 8.6
  CHECK(Bench(two(4)).undoes("P1/FL.up", {"S2/P2"}) == "yes");
}

TEST_CASE("what goes along has to stay under the ceiling") {
  // A box that stands on the shelf is taller than the pole.
  const auto room = [](double ceiling) {
    return R"(dryfit: 1
units: mm
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  ceiling: {normal: down, at: )" +
           mm(ceiling) + R"(}
runs:
  pole:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 300}
      - C1: coupling
      - P2: {pipe: 70}
boards:
  S1: {through: [P2], rests-on: [C1], size: {x: 400, y: 200, z: 19}, reach: {left: 200, front: 100}}
  BOX: {rests-on: [S1], size: {x: 120, y: 150, z: 100}, at: [30, -70]}
)";
  };
  const double top = top_of(room(2000), "BOX");
  CHECK(Bench(room(top + 4)).undoes("P1/FL.up") == "no");
  CHECK(Bench(room(top + 12)).undoes("P1/FL.up") == "yes");
  CHECK(Bench(room(top + 4)).undoes("P1/FL.up", {"FL/floor"}) == "yes");
}

TEST_CASE("a disc on an arm out of the wall is carried along a level axis just so") {
  // The pole lies on its side: everything from P1 on turns and comes 8.6 mm toward the front, and S1 with it.
  const auto arm = [](const std::string& more) {
    return R"(dryfit: 1
units: mm
pipe: {standard: npt, size: 3/4}
surfaces:
  wall: {normal: front, at: 0}
  floor: {normal: up, at: -150}
runs:
  arm:
    from: wall
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 300}
      - C1: coupling
      - P2: {pipe: 400}
boards:
  S1: {through: [P2], rests-on: [C1], size: {x: 200, y: 19, z: 200}, facing: front, reach: {left: 100, down: 100}}
)" + more;
  };
  const double front = Bench(arm("")).board("S1").lo.y;
  const auto fence = [&](double gap) {
    return "  W1: {height: " + mm(front - gap) +
           ", at: [-50, -150], size: {x: 100, y: 19, z: 90}, facing: front, fix: [floor]}\n";
  };
  CHECK(Bench(arm("")).undoes("P1/FL.front") == "yes");
  CHECK(Bench(arm(fence(3))).undoes("P1/FL.front") == "no");
  CHECK(Bench(arm(fence(10))).undoes("P1/FL.front") == "yes");
  CHECK(Bench(arm(fence(3))).undoes("P1/FL.front", {"W1/floor"}) == "yes");
}

TEST_CASE("a shelf that fills the room between two couplings of one pole goes with either") {
  // Nothing holds this work: one pole that lies about.
  const auto loose = [](double upper) {
    return R"(dryfit: 1
units: mm
pipe: {standard: npt, size: 3/4}
runs:
  pole:
    at: [0, 0, 0]
    go: up
    parts:
      - P1: {pipe: 200}
      - C1: coupling
      - P2: {pipe: )" +
           mm(upper) + R"(}
      - C2: coupling
      - P3: {pipe: 100}
boards:
  S1: {through: [P2], rests-on: [C1], size: {x: 400, y: 200, z: 19}, reach: {left: 200, front: 100}}
)";
  };
  // A pipe of 36.3 mm shows 36.3 - 2 x 8.61 = 19.08 between the couplings: the shelf fills it, and still all of this
  // turns, for the shelf goes with one of the two couplings.
  for (const double upper : {36.3, 60.0}) {
    Bench b(loose(upper));
    CHECK(b.undoes("P2/C1.up") == "yes");
    CHECK(b.undoes("P2/C2.down") == "yes");
    CHECK(b.undoes("P1/C1.down") == "yes");
  }
}

TEST_CASE("undoing more never takes a turn away that was there") {
  const double top = top_of(pole(), "S1");
  int turns = 0;
  for (const double gap : {2.5, 9.5}) {
    Bench b(
        pole("", "  TRAY: {rests-on: [S1], size: {x: 150, y: 60, z: 30}, at: [30, 30]}\n" + bracket(top + 30 + gap)));
    std::vector<std::string> gone;
    std::string before = b.undoes("P1/FL.up");
    for (const char* one : {"P3/C2.up", "P2/C2.down", "TRAY/S1", "S1/P2", "W1/wall"}) {
      gone.emplace_back(one);
      const std::string after = b.undoes("P1/FL.up", gone);
      CHECK((before == "no" || after == "yes"));
      before = after;
      turns += after == "yes" ? 1 : 0;
    }
  }
  CHECK(turns >= 7);
}

}  // namespace dryfit::test
