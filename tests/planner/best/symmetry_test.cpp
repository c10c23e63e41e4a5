#include "planner/best/symmetry.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "model/geometry/at.hpp"
#include "planner/best/best_order.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

/// Two legs and a bar between them: one leg on a flange, the other on a cap.
const char* const kHoop = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  hoop:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 10}
      - E1: {elbow: right}
      - P2: {pipe: 24}
      - E2: {elbow: down}
      - P3: {pipe: 10}
      - K: cap
)";

std::string image_of(const Workpiece& w, const ContactMap& map, const std::string& id) {
  const ContactId c = w.list.find(id);
  REQUIRE(c != model::kNone);
  return w.list.contact(map[dryfit::at(c)]).id;
}

const char* const kBench = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left:
    from: floor
    at: [0, 0]
    parts: [F1: flange, P1: {pipe: 12}, F2: flange]
    to: TOP.down
  right:
    from: floor
    at: [30, 0]
    parts: [F3: flange, P2: {pipe: 12}, F4: flange]
    to: TOP.down
boards:
  TOP:
    size: {x: 40, y: 10, z: 1}
    at: [-5, -5]
)";

TEST_CASE("what is alike left and right is found, and what is not is not") {
  const Workpiece w = workpiece(kBench);
  const std::vector<ContactMap> found = symmetries_of(w.frame, w.list);
  // Front and back are alike too, but there every contact is its own image.
  REQUIRE(found.size() == 2);
  CHECK(image_of(w, found[0], "P1/F1.up") == "P2/F3.up");
  CHECK(image_of(w, found[0], "F2/TOP") == "F4/TOP");
  CHECK(image_of(w, found[0], "F3/floor") == "F1/floor");
  CHECK(image_of(w, found[1], "P1/F1.up") == "P2/F3.up");
  const Workpiece hoop = workpiece(kHoop);
  CHECK(symmetries_of(hoop.frame, hoop.list).empty());
}

// Seen in the mirror the two halves of the union have changed places; its nut is its own image.
TEST_CASE("a union in the middle is alike left and right, whichever half carries the nut") {
  const Workpiece w = workpiece(R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  hoop:
    from: floor
    at: [0, 0]
    parts: [F1: flange, P1: {pipe: 12}, E1: {elbow: right}, B1: {pipe: 10}, U: union, B2: {pipe: 10}, E2: {elbow: down},
            P2: {pipe: 12}, F2: flange]
    to: floor
)");
  const std::vector<ContactMap> found = symmetries_of(w.frame, w.list);
  REQUIRE_FALSE(found.empty());
  CHECK(image_of(w, found[0], "U") == "U");
  CHECK(image_of(w, found[0], "P1/F1.up") == "P2/F2.up");
  CHECK(image_of(w, found[0], "F2/floor") == "F1/floor");
}

TEST_CASE("a wall on one side leaves only what is alike along it") {
  std::string text = kBench;
  text.insert(text.find("runs:"), "  wall: {normal: right, at: -8}\n");
  const Workpiece w = workpiece(text);
  CHECK(symmetries_of(w.frame, w.list).empty());
  text.replace(text.find("  wall: {normal: right, at: -8}"), 31, "  wall: {normal: front, at: 8}");
  const Workpiece behind = workpiece(text);
  CHECK(symmetries_of(behind.frame, behind.list).size() == 1);
}

/// The most that two lists of costs differ, in ten-thousandths. A frame file gives lengths to four places, so that the
/// halves of a frame may differ by one of them, and a cost may be rounded the other way.
double worst_difference(const std::vector<std::vector<double>>& here, const std::vector<std::vector<double>>& there) {
  double worst = 0.0;
  for (std::size_t i = 0; i < std::min(here.size(), there.size()); ++i) {
    for (std::size_t k = 0; k < std::min(here[i].size(), there[i].size()); ++k) {
      worst = std::max(worst, std::abs(here[i][k] - there[i][k]));
    }
  }
  return worst;
}

/// What is legal and what it costs is the same for the image, in states that random undoing leads to.
int compare_images(const model::Frame& frame, const ContactList& list, std::uint32_t seed) {
  const std::vector<ContactMap> maps = symmetries_of(frame, list);
  std::mt19937 rng(seed);
  Undoer undoer(frame, list);
  const Effort effort(undoer, 2);
  const Handling handling(undoer, effort, PosePreference::free);
  int compared = 0;
  for (const ContactMap& map : maps) {
    std::vector<ContactId> once = map;
    std::sort(once.begin(), once.end());
    CHECK(std::adjacent_find(once.begin(), once.end()) == once.end());
    State state(list);
    for (int round = 0; round < 6; ++round) {
      std::vector<char> mirrored(list.contacts.size(), 0);
      for (std::size_t c = 0; c < map.size(); ++c) mirrored[dryfit::at(map[c])] = state.all()[c];
      const State image(list, mirrored);
      // Per way: what it costs, and the trouble of every pose.
      const auto ways = [&](const State& now, ContactId c) {
        std::vector<std::vector<double>> all;
        for (const Move& move : undoer.ways(now, c)) {
          for (const PricedMove& priced : effort.price_both_ways(now, move)) {
            std::vector<double> costs{priced.extra.total()};
            for (const Pose pose : kAllPoses) costs.push_back(std::min(1e6, handling.trouble(now, priced.move, pose)));
            const PieceInHand piece = handling.piece_of(now, priced.move);
            costs.push_back(std::min(1e6, handling.turn(piece)));
            for (double& cost : costs) cost = std::round(cost * 1e4);
            all.push_back(std::move(costs));
          }
        }
        std::sort(all.begin(), all.end());
        return all;
      };
      std::vector<ContactId> legal;
      for (ContactId c = 0; c < static_cast<ContactId>(map.size()); ++c) {
        if (!state.made(c)) continue;
        const auto here = ways(state, c);
        CAPTURE(list.contact(c).id);
        const auto there = ways(image, map[dryfit::at(c)]);
        CHECK(here.size() == there.size());
        CHECK(worst_difference(here, there) <= 2.0);
        if (!here.empty()) legal.push_back(c);
        ++compared;
      }
      if (legal.empty()) break;
      state.undo(undoer.try_undo(state, legal[rng() % legal.size()]).move.contacts);
    }
  }
  return compared;
}

TEST_CASE("the image of a move is as legal and as dear, in generated and random frames") {
  int compared = 0;
  for (const std::string& text : {tests::rack_text(2, 2), tests::ladder_text(3, true), tests::grid_text(3, 3)}) {
    const Workpiece w = workpiece(text);
    compared += compare_images(w.frame, w.list, 1);
  }
  for (std::uint32_t seed = 6000; seed < 6300; ++seed) {
    const test::RandomFrame random = test::random_frame(seed, {4, 14});
    CAPTURE(random.text);
    compared += compare_images(random.frame, contacts_of(random.frame), seed);
  }
  CHECK(compared > 500);
}

}  // namespace
}  // namespace dryfit::planner
