/// The oracle on frames whose answers can be worked out with the parts in hand.
#include "tests/support/oracle/oracle.hpp"

#include <doctest/doctest.h>

#include "model/placing/reader.hpp"

namespace dryfit::test {
namespace {

using Ids = std::set<std::string>;

struct Bench {
  explicit Bench(const std::string& body)
      : frame(model::read_frame("dryfit: 1\nname: bench\nunits: mm\npipe: {standard: npt, size: 3/4}\n" + body,
                                "bench.yaml")),
        oracle(frame) {}
  model::Frame frame;
  Oracle oracle;

  /// The sets of contacts that may go while all but `undone` are made.
  [[nodiscard]] std::set<Ids> moves(const Ids& undone = {}) {
    State made = oracle.all() & ~oracle.state_of(undone);
    std::set<Ids> out;
    for (const UndoMove& move : oracle.legal_undo_moves(made)) out.insert(oracle.names(move.undone));
    return out;
  }
};

TEST_CASE("oracle: a ring of plain pipe is a knot whole") {
  Bench ring(R"(runs:
  ring:
    at: [0, 0, 0]
    go: right
    parts:
      - P1: {pipe: 300}
      - E1: {elbow: up}
      - P2: {pipe: 200}
      - E2: {elbow: left}
      - P3: {pipe: 300}
      - E3: {elbow: down}
      - P4: {pipe: 200}
      - E4: {elbow: right}
    to: P1.start
)");
  CHECK(ring.moves().empty());
  const OracleResult result = ring.oracle.solve();
  CHECK_FALSE(result.buildable);
  CHECK(result.knot.size() == 8);  // both threads of four pipes
  CHECK(result.states == 1);
}

TEST_CASE("oracle: a post on the floor comes apart at every place at once") {
  Bench post(R"(surfaces:
  floor: {normal: up, at: 0}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 300}
      - K1: cap
)");
  CHECK(post.moves() == std::set<Ids>{{"FL/floor"}, {"P1/FL.up"}, {"P1/K1.down"}});
  CHECK(post.oracle.solve().buildable);
}

TEST_CASE("oracle: a board between a coupling and a cap waits for the cap") {
  const std::string post = R"(surfaces:
  floor: {normal: up, at: 0}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 300}
      - C1: coupling
      - P2: {pipe: 200}
      - K1: cap
boards:
  S1:
    through: [P2]
    rests-on: [C1]
    size: {x: 300, y: 200, z: 19}
    reach: {left: 150, front: 100}
)";
  Bench narrow(post);
  CHECK_FALSE(narrow.moves().contains({"S1/P2"}));
  CHECK(narrow.moves({"P2/K1.down"}).contains({"S1/P2"}));
  SUBCASE("but not when its hole lets the cap through") {  // whose band is 37 mm (from memory)
    Bench wide(post + "    hole: 60\n");
    CHECK(wide.moves().contains({"S1/P2"}));
  }
}

TEST_CASE("oracle: an arm beside a wall keeps its post from being turned, until the frame leaves the room") {
  Bench arm(R"(surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 100}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 300}
      - E1: {elbow: right}
      - P2: {pipe: 300}
)");
  CHECK_FALSE(arm.moves().contains({"P1/FL.up"}));
  CHECK_FALSE(arm.moves().contains({"P1/E1.down"}));
  CHECK(arm.moves().contains({"P2/E1.right"}));
  CHECK(arm.moves({"FL/floor"}).contains({"P1/FL.up"}));
  CHECK(arm.moves({"P2/E1.right"}).contains({"P1/FL.up"}));
}

TEST_CASE("oracle: a board in slots leaves against them, its half drilled twin swings, its drilled twin stays") {
  const auto rack = [](const std::string& holds) {
    return R"(runs:
  left:
    at: [0, 0, 0]
    go: up
    parts:
      - C1: coupling
      - P1: {pipe: 120}
      - K1: cap
  right:
    at: [400, 0, 0]
    go: up
    parts:
      - C2: coupling
      - P2: {pipe: 120}
      - K2: cap
boards:
  S1:
)" + holds +
           R"(
    rests-on: [C1, C2]
    size: {x: 600, y: 200, z: 19}
    reach: {left: 100, front: 100}
)";
  };
  const Ids both{"S1/P1", "S1/P2"};
  Bench slots(rack("    notch: {P1: front, P2: front}"));
  CHECK(slots.moves().contains(both));
  Bench half(rack("    through: [P1]\n    notch: {P2: front}"));
  CHECK(half.moves().contains({"S1/P2"}));
  CHECK_FALSE(half.moves().contains(both));
  // Open to the right a slot does not let go when the board swings, but the loose right post is pushed out of it; open
  // to the left it would have to come through the left post.
  Bench lengthwise(rack("    through: [P1]\n    notch: {P2: right}"));
  CHECK(lengthwise.moves().contains({"S1/P2"}));
  Bench inward(rack("    through: [P1]\n    notch: {P2: left}"));
  CHECK_FALSE(inward.moves().contains({"S1/P2"}));
  Bench drilled(rack("    through: [P1, P2]"));
  CHECK_FALSE(drilled.moves().contains(both));
  CHECK_FALSE(drilled.moves().contains({"S1/P2"}));
}

TEST_CASE("oracle: a beam is not turned under a board that nothing holds") {
  const auto beam = [](const std::string& more) {
    return R"(runs:
  beam:
    at: [0, 0, 0]
    go: right
    parts:
      - P1: {pipe: 300}
      - C1: coupling
      - P2: {pipe: 300}
boards:
  B1:
    rests-on: [P1]
    size: {x: 200, y: 100, z: 19}
    reach: {left: 100, front: 50}
  B2:
    rests-on: [P2]
    size: {x: 200, y: 100, z: 19}
    reach: {left: 100, front: 50}
)" + more;
  };
  // Each half of the beam carries a board, so neither may turn; the coupling may turn with the other half alone.
  Bench loose(beam(""));
  CHECK(loose.moves() == std::set<Ids>{{"B1/P1"}, {"B2/P2"}});
  CHECK(loose.moves({"B1/P1"}).contains({"P1/C1.left"}));
  Bench strapped(beam("    strap: {P2: 2}\n"));
  CHECK(strapped.moves().contains({"P2/C1.right"}));
  CHECK(strapped.moves({"B2/P2 strap"}).contains({"P2/C1.right"}));
}

TEST_CASE("oracle: a board that cannot give way keeps the coupling under it from rising") {
  // Both posts: a tee, a pipe, a coupling that all but touches the board, a pipe through the board. The left pipe
  // comes out of its tee only when its coupling may rise by the engaged length, and the board with it.
  const auto rack = [](double right_top) {
    return R"(surfaces:
  floor: {normal: up, at: 0}
runs:
  left:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 200}
      - C1: coupling
      - P2: {pipe: 200}
  right:
    from: floor
    at: [400, 0]
    parts:
      - FR: flange
      - P3: {pipe: 200}
      - C2: coupling
      - P4: {pipe: )" +
           std::to_string(right_top) + R"(}
      - C3: coupling
boards:
  S1:
    through: [P2, P4]
    rests-on: [C1, C2]
    size: {x: 600, y: 200, z: 19}
    reach: {left: 100, front: 100}
)";
  };
  // The board is 19 mm thick. On the right P4 shows its length less two engagements of 8.6 mm (L1 of ASME B1.20.1)
  // between the couplings: of 120 mm the board has 83.8 to rise, of 40 mm 3.8, and the thread is 8.6 long.
  Bench roomy(rack(120));
  CHECK(roomy.moves().contains({"P1/FL.up"}));
  Bench tight(rack(40));
  CHECK_FALSE(tight.moves().contains({"P1/FL.up"}));
  CHECK(tight.moves().contains({"P2/C1.up"}));
  CHECK(tight.moves({"P4/C3.down"}).contains({"P1/FL.up"}));
}

TEST_CASE("oracle: halves of a union swing past each other far from the corner and not close to it") {
  const auto ring = [](double side, double first) {
    return R"(runs:
  ring:
    at: [0, 0, 0]
    go: right
    parts:
      - P1: {pipe: )" +
           std::to_string(first) + R"(, size: 1-1/4}
      - U1: {union: , size: 1-1/4, measured: {length: 70}}
      - P5: {pipe: )" +
           std::to_string(first) + R"(, size: 1-1/4}
      - E1: {elbow: up, size: 1-1/4}
      - P2: {pipe: 200, size: 1-1/4}
      - E2: {elbow: left, size: 1-1/4}
      - P3: {pipe: )" +
           std::to_string(side) + R"(, size: 1-1/4}
      - E3: {elbow: down, size: 1-1/4}
      - P4: {pipe: 200, size: 1-1/4}
      - E4: {elbow: right, size: 1-1/4}
    to: P1.start
boards:
  S1:
    through: [P2, P4]
    rests-on: [E1, E4]
    size: {x: 1400, y: 200, z: 19}
    reach: {right: 100, front: 100}
)";
  };
  const double engaged = 0.420 * 25.4;  // L1 of 1-1/4 NPT, ASME B1.20.1
  Bench close(ring(2 * 40 + 70 - 2 * engaged, 40));
  CHECK_FALSE(close.oracle.solve().buildable);
  Bench far(ring(2 * 520 + 70 - 2 * engaged, 520));
  CHECK(far.moves({"U1"}).contains({"P2/E1.up"}));
  CHECK(far.oracle.solve().buildable);
}

TEST_CASE("oracle: what stands in one place is found") {
  Bench crossed(R"(runs:
  one:
    at: [0, 0, 0]
    go: right
    parts:
      - P1: {pipe: 300}
      - C1: coupling
  two:
    at: [100, 0, -100]
    go: up
    parts:
      - P2: {pipe: 300}
      - C2: coupling
)");
  CHECK(overlaps(crossed.frame) == std::vector<std::string>{"P1 in P2"});
}

}  // namespace
}  // namespace dryfit::test
