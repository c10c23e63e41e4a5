/// What a `to:` or `from:` was left out of: frames whose truth is in their numbers.
#include "planner/state/left_out.hpp"

#include <doctest/doctest.h>

#include <string>

#include "tests/support/frames/frame_text.hpp"

namespace dryfit::planner {
namespace {

using namespace dryfit::test;

/// A leg of 6 in under a board at `height`, with or without the words that screw its flange to it.
model::Frame leg_under_board(const std::string& to, const std::string& height) {
  return model::read_frame(
      "dryfit: 1\nname: Leg\nunits: in\npipe: {standard: npt, size: 3/4}\n"
      "surfaces:\n  floor: {normal: up, at: 0}\n"
      "runs:\n  leg:\n    from: floor\n    at: [0, 0]\n"
      "    parts: [F: flange, P: {pipe: 6}, G: flange]\n" +
          to + "boards:\n  TOP: {height: " + height + ", at: [-5, -5], size: {x: 10, y: 10, z: 3/4}}\n",
      "f.yaml");
}

/// Height of the leg's upper face.
double top_of_leg() {
  const model::Frame frame = leg_under_board("", "20");
  return frame.part(2).centre.z / 25.4;
}

TEST_CASE("a flange that lies under a board and is screwed to nothing is told, with the face it lies on") {
  const std::string on_it = std::to_string(top_of_leg());
  const auto bare = bare_flanges(leg_under_board("", on_it));
  REQUIRE(bare.size() == 1);
  CHECK(bare[0].flange == 2);
  CHECK(bare[0].board == 3);
  CHECK(bare[0].surface == model::kNone);
  CHECK(bare[0].face == model::kDown);
  CHECK(bare_flanges(leg_under_board("    to: TOP.down\n", on_it)).empty());
  // 1/8 in below the board it carries nothing, and nobody meant it to.
  CHECK(bare_flanges(leg_under_board("", std::to_string(top_of_leg() + 0.125))).empty());
}

TEST_CASE("a flange against the ceiling is told until it is screwed there") {
  const auto pole = [](const std::string& to, double ceiling) {
    return model::read_frame(
        "dryfit: 1\nname: Pole\nunits: in\npipe: {standard: npt, size: 3/4}\n"
        "surfaces:\n  floor: {normal: up, at: 0}\n  ceiling: {normal: down, at: " +
            std::to_string(ceiling) +
            "}\nruns:\n  pole:\n    from: floor\n    at: [0, 0]\n"
            "    parts: [F: flange, P: {pipe: 6}, G: flange]\n" +
            to,
        "f.yaml");
  };
  const auto bare = bare_flanges(pole("", top_of_leg()));
  REQUIRE(bare.size() == 1);
  CHECK(bare[0].surface == 1);
  CHECK(bare[0].board == model::kNone);
  CHECK(bare_flanges(pole("    to: ceiling\n", top_of_leg())).empty());
  CHECK(bare_flanges(pole("", top_of_leg() + 1.0)).empty());
}

TEST_CASE("a pipe that ends in an open outlet without `to` is told with the outlet") {
  // Two tees that face each other, and a pipe that is as long as the way between them.
  const auto rail = [](const std::string& apart, const std::string& to) {
    return model::read_frame(
        "dryfit: 1\nname: Rail\nunits: in\npipe: {standard: npt, size: 3/4}\n"
        "runs:\n"
        "  left: {at: [0, 0, 0], go: up, parts: [P: {pipe: 6}, T: {tee: right}]}\n"
        "  right: {at: [" +
            apart +
            ", 0, 0], go: up, parts: [Q: {pipe: 6}, U: {tee: left}]}\n"
            "  rail: {from: T.right, parts: [R: {pipe: 12}]" +
            to + "}\n",
        "f.yaml");
  };
  // What the rail makes of the distance: one that is placed by it.
  const model::Frame whole = model::read_frame(
      "dryfit: 1\nname: Rail\nunits: in\npipe: {standard: npt, size: 3/4}\n"
      "runs:\n"
      "  left: {at: [0, 0, 0], go: up, parts: [P: {pipe: 6}, T: {tee: right}]}\n"
      "  right: {go: up, parts: [Q: {pipe: 6}, U: {tee: left}]}\n"
      "  rail: {from: T.right, parts: [R: {pipe: 12}], to: U.left}\n",
      "f.yaml");
  const auto centre = [&](const char* label) {
    for (const model::Part& part : whole.parts) {
      if (part.label == label) return part.centre.x;
    }
    return 0.0;
  };
  const double apart = (centre("U") - centre("T")) / 25.4;
  const model::Frame open = rail(std::to_string(apart), "");
  const auto bare = bare_ends(open);
  REQUIRE(bare.size() == 1);
  CHECK(open.part(bare[0].pipe).label == "R");
  CHECK(open.part(bare[0].fitting).label == "U");
  CHECK(bare[0].depth == doctest::Approx(0.339 * 25.4).epsilon(0.01));  // L1 of 3/4 in, ASME B1.20.1
  CHECK(bare_ends(rail(std::to_string(apart), ", to: U.left")).empty());
  CHECK(bare_ends(rail(std::to_string(apart + 2.0), "")).empty());  // it ends short of the outlet
}

}  // namespace
}  // namespace dryfit::planner
