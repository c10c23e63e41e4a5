/// Whether undoing a contact parts what one move could have taken: frames whose pieces can be told by hand.
#include "planner/early/slide_split.hpp"

#include <doctest/doctest.h>

#include <string>

#include "tests/support/frames/design.hpp"

using namespace dryfit;
using tests::Design;

namespace {

bool parts(const Design& design, const std::string& contact) {
  const planner::ContactId c = design.list.find(contact);
  REQUIRE(c != model::kNone);
  return planner::parts_a_slide(design.frame, planner::State(design.list), {c});
}

}  // namespace

// The rod is in the shelf on the post and in the board on the wall. With the shelf on it both leave at once, straight
// up: the shelf its post, the rod its bracket. Once the rod is out of the shelf they leave one after the other.
TEST_CASE("a rod in a shelf, and each in something that stays, leave at once only while the one is in the other") {
  const Design both(R"(
dryfit: 1
name: Shelf and rod
units: mm
pipe: {standard: npt, size: 3/4}
surfaces: {floor: {normal: up, at: 0}, wall: {normal: front, at: 200}}
runs:
  post: {from: floor, at: [0, 0], parts: [F: flange, A: {pipe: 200}, C: coupling, B: {pipe: 150}]}
  rod: {at: [200, 0, 100], go: up, parts: [K: cap, R: {pipe: 300}]}
boards:
  S: {through: [B, R], rests-on: [C], size: {x: 300, y: 100, z: 19}, reach: {left: 50, front: 50}}
  W: {through: [R], height: 160, size: {x: 100, y: 250, z: 19}, reach: {left: 50, front: 50}, fix: [wall]}
)");
  CHECK(parts(both, "S/R"));
  // With the shelf off its post the rod alone is left to go.
  CHECK_FALSE(parts(both, "S/B"));
}

// The slot round A is open to the right: to the front S pushes A along, out of T's slot, while it leaves B. Once A has
// left S to the right, S and A take a move each. Nothing hangs in holes here: along the pipes it is the same slots.
TEST_CASE("a pipe that a slot pushes along leaves a second board with it, and not without it") {
  const std::string text = R"(
dryfit: 1
name: Two slotted boards
units: mm
pipe: {standard: npt, size: 3/4}
runs:
  a: {at: [100, 0, 0], go: up, parts: [K1: cap, A: {pipe: 400}]}
  b: {at: [0, 0, 0], go: up, parts: [K2: cap, B: {pipe: 400}]}
boards:
  S: {notch: {A: right, B: back}, height: 200, size: {x: 200, y: 200, z: 19}, at: [-50, -100]}
  T: {notch: {A: front}, height: 300, size: {x: 100, y: 200, z: 19}, at: [50, -100]}
)";
  CHECK(parts(Design(text), "S/A"));
  // Out of a slot of T that is open to the right as well A does not go to the front: no board but S leaves anything.
  std::string held = text;
  held.replace(held.find("{A: front}"), 10, "{A: right}");
  CHECK_FALSE(parts(Design(held), "S/A"));
}
