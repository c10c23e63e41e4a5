/// A board is its box less its holes and slots: frames by hand, put to the search, the judge and the oracle.
/// A tee of 3/4 NPT reaches 1.31 in = 33.3 mm from its centre and is 1.458 in = 37.0 mm across
/// (model/data/fittings.csv): the corner of its branch goes round at hypot(33.3, 18.5) = 38.1 mm.
#include <doctest/doctest.h>

#include "tests/support/voices/three_voices.hpp"

namespace dryfit::test {
namespace {

const std::string kRoom =
    "dryfit: 1\nunits: mm\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\n"
    "  wall: {normal: front, at: 250}\nruns:\n";

}  // namespace

TEST_CASE("a board is slid over a tee where the tee's branch passes its hole") {
  const auto stand = [](double hole, const std::string& branch) {
    return kRoom + R"(  stand:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 300}
      - T1: {tee: right}
)" + branch +
           R"(boards:
  S1: {through: [P1], height: 120, size: {x: 300, y: 260, z: 19}, reach: {left: 150, front: 130}, hole: )" +
           std::to_string(hole) + " mm}\n";
  };
  CHECK(ThreeVoices(stand(99, "")).undoes("S1/P1") == "yes");
  CHECK(ThreeVoices(stand(80, "")).undoes("S1/P1") == "yes");
  CHECK(ThreeVoices(stand(70, "")).undoes("S1/P1") == "no");
  // With a pipe in the branch it does not go over, whatever the hole; and goes again when the pipe is out.
  ThreeVoices armed(
      stand(99, "      - P2: {pipe: 60}\n  arm:\n    from: T1.right\n    parts:\n      - P3: {pipe: 200}\n"));
  CHECK(armed.undoes("S1/P1") == "no");
  CHECK(armed.undoes("S1/P1", {"P3/T1.right"}) == "yes");
}

TEST_CASE("a tee turns within a wide hole of a board that another post holds") {
  // The hole is drilled for Q; the stand with the tee passes it 60 mm beside Q. The branch goes round at 38.1 mm, so it
  // stays clear of Q (60 - 13.3 = 46.7) and comes to 98.1 mm from Q's axis.
  const auto stand = [](double hole, const std::string& axis) {
    return kRoom + R"(  mast:
    from: floor
    at: [0, 0]
    parts:
      - FQ: flange
      - Q: {pipe: 600}
  stand:
    from: floor
    at: [)" +
           axis + R"(]
    parts:
      - P1: {pipe: 300}
      - T1: {tee: right}
boards:
  S1: {through: [Q], height: 310, size: {x: 400, y: 400, z: 19}, reach: {left: 200, front: 150}, fix: [wall], hole: )" +
           std::to_string(hole) + R"( mm}
clips: {P1: wall}
)";
  };
  for (const char* axis : {"60, 0", "0, 60", "-60, 0"}) {
    CAPTURE(axis);
    CHECK(ThreeVoices(stand(210, axis)).undoes("P1/T1.down") == "yes");
    CHECK(ThreeVoices(stand(198, axis)).undoes("P1/T1.down") == "yes");
    CHECK(ThreeVoices(stand(190, axis)).undoes("P1/T1.down") == "no");
    CHECK(ThreeVoices(stand(190, axis)).undoes("P1/T1.down", {"S1/wall", "S1/Q"}) == "yes");
  }
}

TEST_CASE("a tee turns inside a slot as far as its sides and its round end") {
  // The slot is cut for Q and open to the front; the stand with the tee is in it too, 60 mm or more beside Q.
  const auto stand = [](double slot, const std::string& at) {
    return kRoom + R"(  mast:
    from: floor
    at: [0, 0]
    parts:
      - FQ: flange
      - Q: {pipe: 600}
  stand:
    from: floor
    at: [)" +
           at + R"(]
    parts:
      - P1: {pipe: 300}
      - T1: {tee: right}
boards:
  S1: {notch: {Q: front}, height: 310, size: {x: 500, y: 400, z: 19}, at: [-250, -150], fix: [wall], hole: )" +
           std::to_string(slot) + R"( mm}
clips: {P1: wall}
)";
  };
  // Between the sides the tee takes 38.1 mm to the left and to the right of the middle.
  CHECK(ThreeVoices(stand(80, "0, -60")).undoes("P1/T1.down") == "yes");
  CHECK(ThreeVoices(stand(70, "0, -60")).undoes("P1/T1.down") == "no");
  // Beside Q it comes to 60 + 38.1 from the middle of the round end, 105 being there.
  CHECK(ThreeVoices(stand(210, "60, 0")).undoes("P1/T1.down") == "yes");
  // Behind Q it comes to hypot(60, 40) + 38.1 = 110.2: into the round end, and not into a square one.
  CHECK(ThreeVoices(stand(210, "60, 40")).undoes("P1/T1.down") == "no");
  CHECK(ThreeVoices(stand(226, "60, 40")).undoes("P1/T1.down") == "yes");
  CHECK(ThreeVoices(stand(210, "60, 40")).undoes("P1/T1.down", {"S1/wall", "S1/Q"}) == "yes");
}

}  // namespace dryfit::test
