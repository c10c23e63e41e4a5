// How far two parts are in one another, and on which side: what to move, and by how much.
#include <doctest/doctest.h>

#include "planner/state/contacts.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/program/program.hpp"

namespace {

using namespace dryfit;
using namespace dryfit::planner;

/// Two boards of 10 x 10 x 1 in held by their screws, the second one shifted and lifted.
model::Frame boards(const std::string& left, const std::string& height) {
  return model::read_frame(test::kHead +
                               "  wall: {normal: front, at: 10}\n"
                               "runs: {post: {from: floor, at: [40, 0], parts: [F: flange, P: {pipe: 3}]}}\n"
                               "boards:\n"
                               "  A: {size: {x: 10, y: 10, z: 1}, at: [0, 0], height: 10, fix: [wall]}\n"
                               "  B: {size: {x: 10, y: 10, z: 1}, at: [" +
                               left + ", 0], height: " + height + ", fix: [wall]}\n",
                           "f.yaml");
}

/// As A sees it, whichever of the two comes first.
OverlapExtent extent(const model::Frame& frame) {
  const ContactList list = contacts_of(frame);
  const std::vector<Overlap> found = overlaps_of(frame, list);
  REQUIRE(found.size() == 1);
  OverlapExtent how_far = extent_of(frame, found.front());
  if (frame.part(found.front().a).id != "A") how_far.too_far = -how_far.too_far;
  return how_far;
}

// Arithmetic on the boxes.
TEST_CASE("of the ways that end an overlap the shortest is told") {
  const OverlapExtent under = extent(boards("0", "10-3/4"));  // a quarter of an inch in one another
  CHECK(under.depth == doctest::Approx(0.25 * 25.4));
  CHECK(under.too_far == model::kUp);  // A reaches too far up into B
  const OverlapExtent beside = extent(boards("9-1/2", "10"));
  CHECK(beside.depth == doctest::Approx(0.5 * 25.4));
  CHECK(beside.too_far == model::kRight);
  const OverlapExtent other = extent(boards("-9-1/2", "10"));
  CHECK(other.too_far == model::kLeft);
}

TEST_CASE("of what reaches behind a surface the way is the surface's own") {
  const model::Frame frame = model::read_frame(
      test::kHead +
          "  wall: {normal: front, at: 2}\n"
          "runs: {post: {from: floor, at: [0, 0], parts: [F: flange, P: {pipe: 6}, E: {elbow: back}, Q: {pipe: 3}]}}\n",
      "f.yaml");
  const ContactList list = contacts_of(frame);
  bool seen = false;
  for (const Overlap& overlap : overlaps_of(frame, list)) {
    if (frame.part(overlap.a).id != "Q") continue;
    const OverlapExtent how_far = extent_of(frame, overlap);
    CHECK(how_far.too_far == model::kBack);
    const double tip = frame.part(overlap.a).ports[1].at.y;
    CHECK(how_far.depth == doctest::Approx(tip - 2 * 25.4));
    seen = true;
  }
  CHECK(seen);
}

/// On one line, however the terminal's lines are broken.
std::string unbroken(std::string text) {
  for (std::size_t at; (at = text.find("\n    ")) != std::string::npos;) text.replace(at, 5, " ");
  return text;
}

TEST_CASE("check says by how much two parts are in the same place, on which side, and what ends it") {
  const std::string text = test::kHead +
                           "  wall: {normal: front, at: 10}\n"
                           "runs: {post: {from: floor, at: [40, 0], parts: [F: flange, P: {pipe: 3}]}}\n"
                           "boards:\n"
                           "  A: {size: {x: 10, y: 10, z: 1}, at: [0, 0], height: 10, fix: [wall]}\n"
                           "  B: {size: {x: 10, y: 10, z: 1}, at: [0, 0], height: 10-3/4, fix: [wall]}\n";
  const auto english = tests::run({"check", "-"}, text);
  CHECK(english.code == 1);
  const std::string told = unbroken(english.out);
  CHECK(told.find("A and B are in the same place, and nothing joins them: A is ") != std::string::npos);
  CHECK(told.find(" in too far up. Move A down, or B up, by that much.") != std::string::npos);
  const auto german = tests::run({"check", "-", "--language", "de"}, text);
  CHECK(unbroken(german.out).find("A um so viel nach unten rücken oder B nach oben.") != std::string::npos);
}

TEST_CASE("two runs with an `at` that a rail joins are told that one `at` is one too many") {
  std::string text = test::two_posts("12");
  CHECK(tests::run({"fit", "-"}, text).out.find("both have") == std::string::npos);
  const std::string without = "  right post:\n    from: floor\n";
  REQUIRE(text.find(without) != std::string::npos);
  text.insert(text.find(without) + without.size(), "    at: [20, 0]\n");
  const auto ran = tests::run({"check", "-"}, text);
  CHECK(ran.code == 1);
  CHECK(unbroken(ran.out).find("'left post' and 'right post' both have an `at`. Leave it out of 'right post'") !=
        std::string::npos);
}

}  // namespace
