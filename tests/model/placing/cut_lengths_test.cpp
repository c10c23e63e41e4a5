#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/placed.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

// The trade's rules for cut lengths, US Army Engineer School plumbing lessons (subcourse text, public domain; read on a
// secondary page): centre to centre C is cut = C - d1 - d2 + e1 + e2; face to face F is cut = F + e1 + e2; end to
// centre is the same with one fitting. The numbers are derived from the tables: 1/2 in, d 1.12, e = L1 + L3 = 0.5343.
TEST_CASE("pipes cut by the trade's rules come out at the wanted length") {
  const std::string head = "dryfit: 1\nmake-up: wrench\npipe: {standard: npt, size: 1/2}\n";
  // For 24: 24 - 2 x 1.12 + 2 x 0.5343 = 22.8286; 24 + 2 x 0.5343 = 25.0686; 24 - 1.12 + 0.5343 = 23.4143.
  const Frame centres = read_frame(
      head +
          "runs: {r: {go: right, at: [0, 0, 0], parts: [A: {elbow: up}, Q: {pipe: 3}, B: {elbow: right}, P: {pipe: "
          "22.8286}, C: {elbow: up}]}}\n",
      "f.yaml");
  CHECK(near(part(centres, "C").centre - part(centres, "B").centre, inch(24, 0, 0)));
  const Frame faces = read_frame(
      head + "runs: {r: {go: right, at: [0, 0, 0], parts: [A: coupling, P: {pipe: 25.0686}, B: coupling]}}\n",
      "f.yaml");
  CHECK(near(end_at(faces, "B", "left") - end_at(faces, "A", "right"), inch(24, 0, 0)));
  const Frame end = read_frame(
      head + "runs: {r: {go: right, at: [0, 0, 0], parts: [P: {pipe: 23.4143}, B: {elbow: up}]}}\n", "f.yaml");
  CHECK(near(part(end, "B").centre, inch(24, 0, 0)));
}

// Dibble, Elements of Plumbing, 1918 (public domain), Measurements: a 45 degree offset is its set times 1.41, so 12 in
// of set want 16.92 in, centre to centre. The printed multiplier is rounded from 1.4142.
TEST_CASE("a 45 degree offset follows the printed multiplier") {
  // Cut for 16.92 centre to centre: 16.92 - 2 x 0.98 + 2 x 0.339 = 15.638.
  const Frame frame = read_frame(
      "dryfit: 1\npipe: {standard: npt, size: 3/4}\n"
      "runs: {r: {go: up, at: [0, 0, 0], parts: [A: {pipe: 9}, B: {elbow45: up-right}, C: {pipe: 15.638}, D: {elbow45: "
      "up}, "
      "E: {pipe: 9}]}}\n",
      "f.yaml");
  const Vec3 between = part(frame, "D").centre - part(frame, "B").centre;
  CHECK(near(norm(between), 16.92 * kIn));
  // Within the rounding of the multiplier: 16.92 / 1.4142 = 11.964, 0.036 off, and 1.4142 - 1.41 = 0.0042.
  CHECK(std::abs(between.x - 12 * kIn) < 0.04 * kIn);
  CHECK(std::abs(norm(between) / between.x - 1.41) < 0.005);
  CHECK(near(between.x, between.z));
  CHECK(near(end_at(frame, "E", "up").x, between.x));
}

// Common practice, no source: in 1 in hand-tight work a pipe of 30 and 12 + 12 + 4-1/2 with two couplings come out
// level by turning. A turn is 1/11.5 = 0.087 in; six joints stand in the second post's way.
TEST_CASE("30 against 12 + 12 + 4-1/2 with two couplings is off by less than three turns") {
  const Frame frame = read_frame(R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  a: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 30}, K1: cap]}
  b: {from: floor, at: [20, 0], parts: [F2: flange, P2: {pipe: 12}, C1: coupling, P3: {pipe: 12}, C2: coupling, P4: {pipe: 4-1/2}, K2: cap]}
boards:
  S: {size: {x: 24, y: 6, z: 1}, rests-on: [K1, K2], reach: {left: 2, front: 3}}
)",
                                 "f.yaml");
  // 28.5 + 2 (1.67 - 2 x 0.400) = 30.24.
  CHECK(near(closure(frame, "S", "K2").gap, inch(0, 0, 0.24)));
  CHECK(0.24 < 3 / 11.5);
}

// Common practice, no source: 48 against 30 + tee + 10 + coupling + 5 closes by turning, against
// 30 + tee + 8 + coupling + 8 it does not: 0.07 in is less than a turn, 1.07 in more than all joints can give.
TEST_CASE("48 against 30 + tee + 10 + coupling + 5 nearly fits, with 8 + coupling + 8 it does not") {
  const auto gap = [](const std::string& upper, const std::string& lower) {
    const Frame frame = read_frame(
        "dryfit: 1\npipe: {standard: npt, size: 1}\nsurfaces:\n  floor: {normal: up, at: 0}\n"
        "runs:\n"
        "  a: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 48}, K1: cap]}\n"
        "  b: {from: floor, at: [20, 0], parts: [F2: flange, P2: {pipe: 30}, T: {tee: right}, P3: {pipe: " +
            upper + "}, C: coupling, P4: {pipe: " + lower +
            "}, K2: cap]}\n"
            "boards:\n"
            "  S: {size: {x: 24, y: 6, z: 1}, rests-on: [K1, K2], reach: {left: 2, front: 3}}\n",
        "f.yaml");
    return frame.closures.at(0).gap.z / kIn;
  };
  // 45 + (2 x 1.50 - 2 x 0.400) + (1.67 - 2 x 0.400) = 48.07; with 46 of pipe 49.07.
  CHECK(gap("10", "5") == doctest::Approx(0.07).epsilon(0.001));
  CHECK(gap("8", "8") == doctest::Approx(1.07).epsilon(0.001));
}

}  // namespace
