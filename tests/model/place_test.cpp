#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "model/reader.hpp"

namespace {

using namespace dryfit::model;

/// Within a hundredth of a millimetre, on every axis.
bool near(Vec3 a, Vec3 b) { return norm(a - b) < 0.01; }

const Part& part(const Frame& frame, const std::string& id) {
  const PartId found = frame.find(id);
  REQUIRE(found >= 0);
  return frame.parts[static_cast<std::size_t>(found)];
}

// Dimensions used below, inches. Engagement L1 of 3/4 pipe is 0.339 (ASME B1.20.1, secondary source). From memory,
// as the tables say: tee centre to end 1.31, coupling 1.52 long, flange 0.75 high.
constexpr double kIn = 25.4;

TEST_CASE("a post on the floor rises by its parts less their engaged threads") {
  const Frame frame = read_frame(R"(dryfit: 1
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 1}
runs:
  post:
    from: floor
    at: [2, 3]
    parts:
      - F: flange
      - P1: {pipe: 6}
      - T: {tee: right}
      - P2: {pipe: 12}
      - C: coupling
)",
                                 "post.yaml");
  CHECK(near(part(frame, "F").centre, {2 * kIn, 3 * kIn, 1 * kIn}));
  // Pipe tip: face of the flange, 1 + 0.75, less 0.339.
  CHECK(near(part(frame, "P1").ports[0].at, {2 * kIn, 3 * kIn, 1.411 * kIn}));
  // Tee centre: tip 1.411 + 6, less 0.339, plus 1.31.
  CHECK(near(part(frame, "T").centre, {2 * kIn, 3 * kIn, 8.382 * kIn}));
  // Branch face: 1.31 to the right.
  CHECK(near(part(frame, "T").ports[2].at, {3.31 * kIn, 3 * kIn, 8.382 * kIn}));
  // Coupling: tee's upper face 9.692, less 0.339, plus 12, less 0.339; its middle half of 1.52 above.
  CHECK(near(part(frame, "C").centre, {2 * kIn, 3 * kIn, 21.774 * kIn}));
  CHECK(frame.closures.empty());
  CHECK(joint_name(frame, 2) == "P2/T.up");
}

}  // namespace
