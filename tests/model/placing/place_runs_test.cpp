#include <doctest/doctest.h>

#include <algorithm>

#include "model/measure/verify.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/placed.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

// Dimensions in inches. L1 of ASME B1.20.1 (secondary source): 3/4 0.339, 1 0.400. From memory, as the tables say:
// tee and elbow centre to end 3/4 1.31, 1 1.50; coupling 3/4 1.52, 1 1.67; flange 3/4 0.75 high; cap 3/4 0.97;
// band 3/4 1.458; 45 elbow 3/4 0.98. Pipe outside diameter 3/4 1.050 (secondary).

TEST_CASE("a rail that is too short for its posts leaves a gap at the joint that closes the ring") {
  // Two posts with a rail below of 30 and one above of 29: the lower one ends 1 in behind the right tee's face.
  const Frame frame = read_frame(kHead + R"(runs:
  left: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 6}, T1: {tee: right}, P2: {pipe: 12}, E1: {elbow: right}, P3: {pipe: 29}], to: E2.left}
  rail: {from: T1.right, parts: [P4: {pipe: 30}], to: T2.left}
  right: {from: floor, parts: [F2: flange, P5: {pipe: 6}, T2: {tee: left}, P6: {pipe: 12}, E2: {elbow: left}]}
)",
                                 "f.yaml");
  // The right post has no way of its own that places it; of the links of others the left post's `to` comes first.
  CHECK(closure_names(frame) == std::vector<std::string>{"F2-floor", "P4-T2"});
  const Closure& c = closure(frame, "P4", "T2");
  CHECK(c.kind == Closure::Kind::joint);
  CHECK(near(c.gap, inch(-1, 0, 0)));
  CHECK(c.binds == std::array{true, true, true});
  const Joint& closing = frame.joint(c.joint);
  CHECK(closing.closing);
  CHECK(joint_name(frame, c.joint) == "P4/T2.left");
  CHECK(std::count_if(frame.joints.begin(), frame.joints.end(), [](const Joint& j) { return j.closing; }) == 1);
}

TEST_CASE("a run placed twice says how far the second way is off, from the port's own link too") {
  // The rail is placed by its `from`; its `to` is the closure, 2 in short: 8 of pipe in a gap for 10.
  const Frame frame = read_frame(kHead + R"(runs:
  left: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 6}, T1: {tee: right}]}
  rail: {from: T1.right, parts: [P4: {pipe: 8}], to: T2.left}
  right: {from: floor, at: [11.942, 0], parts: [F2: flange, P5: {pipe: 6}, T2: {tee: left}]}
)",
                                 "f.yaml");
  // Rail of 10 would give 1.31 - 0.339 + 10 - 0.339 + 1.31 = 11.942.
  CHECK(closure_names(frame) == std::vector<std::string>{"P4-T2"});
  CHECK(near(closure(frame, "P4", "T2").gap, inch(2, 0, 0)));
}

TEST_CASE("own `at` goes before `from`, `from` before `to`, `to` before the links of others") {
  // The middle run could be placed by its `from` (T1), its `to` (T2) or the link of the run 'other'.
  const std::string text = kHead + R"(runs:
  a: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 6}, T1: {tee: right}]}
  b: {from: floor, at: [20, 0], parts: [F2: flange, P2: {pipe: 6}, T2: {tee: left}]}
  middle: {from: T1.right, parts: [P3: {pipe: 5}, T3: {tee: down}, P4: {pipe: 5}], to: T2.left}
  other: {from: floor, at: [9, 0], parts: [F3: flange, P5: {pipe: 5}], to: T3.down}
)";
  const Frame frame = read_frame(text, "f.yaml");
  // By T1: pipe's start 1.31 - 0.339 = 0.971.
  CHECK(near(end_at(frame, "P3", "left").x, 0.971 * kIn));
  CHECK(closure_names(frame) == std::vector<std::string>{"P4-T2", "P5-T3"});
  std::string no_from = text;
  no_from.replace(no_from.find("from: T1.right"), 14, "go: right");
  const Frame by_to = read_frame(no_from, "f.yaml");
  // By T2: its face at 20 - 1.31 = 18.69, pipe's end 0.339 inside.
  CHECK(near(end_at(by_to, "P4", "right").x, 19.029 * kIn));
  CHECK(closure_names(by_to) == std::vector<std::string>{"P5-T3"});
  std::string neither = no_from;
  neither.replace(neither.find(", to: T2.left"), 13, "");
  const Frame by_other = read_frame(neither, "f.yaml");
  CHECK(near(part(by_other, "T3").centre.x, 9 * kIn));
  CHECK(by_other.closures.empty());
}

TEST_CASE("the first run starts at [0, 0] on its surface, or at the origin when nothing else can start") {
  CHECK(near(
      part(read_frame(kHead + "runs: {a: {from: floor, parts: [F: flange, P: {pipe: 6}]}}\n", "f.yaml"), "F").centre,
      {}));
  CHECK(near(end_at(read_frame(kHead + "runs: {a: {go: right, parts: [P: {pipe: 6}]}}\n", "f.yaml"), "P", "left"), {}));
  // A first run that hangs on a later one with `at` is placed by that.
  const Frame frame = read_frame(kHead + R"(runs:
  rail: {from: T1.right, parts: [P4: {pipe: 8}]}
  left: {from: floor, at: [5, 0], parts: [F1: flange, P1: {pipe: 6}, T1: {tee: right}]}
)",
                                 "f.yaml");
  CHECK(near(end_at(frame, "P4", "left").x, (5 + 0.971) * kIn));
  CHECK(frame.closures.empty());
}

TEST_CASE("a rail between two walls closes at the second flange") {
  const Frame frame = read_frame(R"(dryfit: 1
pipe: {standard: npt, size: 3/4}
surfaces:
  near: {normal: right, at: 0}
  far: {normal: left, at: 30}
runs:
  rail: {from: near, at: [4, 36], parts: [F1: flange, P: {pipe: 29}, F2: flange], to: far}
)",
                                 "f.yaml");
  // `at` is y and z on a surface that faces right.
  CHECK(near(part(frame, "F1").centre, inch(0, 4, 36)));
  // 0.75 - 0.339 + 29 - 0.339 + 0.75 = 29.822, so the wall lies 0.178 farther.
  const Closure& c = closure(frame, "F2", "far");
  CHECK(c.kind == Closure::Kind::surface);
  CHECK(near(c.gap, inch(0.178, 0, 0)));
  CHECK(c.binds == std::array{true, false, false});
  CHECK(fastening_name(frame, 0) == "F1/near");
  CHECK(fastening_name(frame, 1) == "F2/far");
}

TEST_CASE("a part other than a flange only stands on a surface") {
  const Frame frame =
      read_frame(kHead +
                     "runs: {a: {from: floor, parts: [K: cap, P: {pipe: 6}, E: {elbow: right}, Q: {pipe: "
                     "6}, F: {elbow: down}, R: {pipe: 6}, L: cap]}}\n",
                 "f.yaml");
  CHECK(frame.fastenings.empty());
  CHECK(frame.closures.empty());
  CHECK(near(part(frame, "L").centre.z, 0));
}

TEST_CASE("a fitting can follow a pipe's free end, in the direction of the pipe") {
  const Frame frame = read_frame(kHead + R"(runs:
  tail: {from: P1.end, parts: [E: {elbow: right}]}
  post: {from: floor, at: [0, 0], parts: [F: flange, P1: {pipe: 6}]}
  under: {from: P2.start, parts: [C: coupling]}
  bar: {go: up-right, at: [9, 0, 9], parts: [P2: {pipe: 6}]}
)",
                                 "f.yaml");
  // 0.75 - 0.339 + 6 = 6.411 is the pipe's end.
  CHECK(near(end_at(frame, "E", "down"), inch(0, 0, 6.411 - 0.339)));
  CHECK(end_at(frame, "C", "up-right").x > 9 * kIn);
}

TEST_CASE("a ring within one run closes on itself") {
  const Frame frame = read_frame(R"(dryfit: 1
pipe: {standard: npt, size: 3/4}
runs:
  ring:
    go: right
    at: [0, 0, 0]
    parts: [A: {pipe: 10}, B: {elbow: up}, C: {pipe: 10}, D: {elbow: left}, E: {pipe: 10}, F: {elbow: down}, G: {pipe: 10}, H: {elbow: right}]
    to: A.start
)",
                                 "f.yaml");
  REQUIRE(frame.closures.size() == 1);
  CHECK(near(frame.closures[0].gap, {}));
  CHECK(verify(frame).empty());
}

}  // namespace
