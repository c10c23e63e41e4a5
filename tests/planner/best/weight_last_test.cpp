/// What is heavy or wide goes on last, when what carries it is fast, where that costs little; and pieces that are made
/// up apart are made in one go. Common practice of the trade, no source.
#include <doctest/doctest.h>

#include <algorithm>

#include "planner/best/best_order.hpp"
#include "planner/order/subassembly.hpp"
#include "tests/support/answers/best_steps.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/heavy_frames.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

/// Two hoops on the floor side by side, and a top of 149 lb laid across and strapped.
const std::string kPackingTable = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left: {from: floor, at: [0, 0], parts: [{F1: flange}, {P1: {pipe: 30}}, {T1: {elbow: back}}, {R1: {pipe: 36}},
                                          {T2: {elbow: down}}, {P2: {pipe: 30}}, {F2: flange}], to: floor}
  right: {from: floor, at: [48, 0], parts: [{F3: flange}, {P3: {pipe: 30}}, {T3: {elbow: back}}, {R2: {pipe: 36}},
                                            {T4: {elbow: down}}, {P4: {pipe: 30}}, {F4: flange}], to: floor}
boards:
  TOP: {size: {x: 60, y: 30, z: 3}, rests-on: [R1, R2], reach: {left: 6, front: 15}, strap: {R1: 2, R2: 2}, stock: oak}
)";

TEST_CASE("a heavy top is laid on when all four flanges are screwed down, by three people, and strapped by one") {
  const Workpiece w = workpiece(kPackingTable);
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  CHECK(best.effort.proven);
  const int laid = test::step_of(w, best, "TOP/R1");
  for (const char* flange : {"F1/floor", "F2/floor", "F3/floor", "F4/floor"})
    CHECK(test::step_of(w, best, flange) < laid);
  const auto& steps = best.order.steps;
  const auto lay = static_cast<std::size_t>(laid) - 1;
  CHECK(steps[lay].lift.people == 3);  // 67 kg: more than two times 23
  for (std::size_t i = lay + 1; i < steps.size(); ++i) {
    CHECK(steps[i].action == Action::fasten);  // the straps
    CHECK(steps[i].lift.mass == 0.0);
    CHECK(steps[i].lift.people == 1);
  }
}

TEST_CASE("a shelf is not pushed in between the screws of two wall flanges") {
  const Workpiece w = workpiece(R"(dryfit: 1
pipe: {standard: npt, size: 1/2}
surfaces:
  wall: {normal: front, at: 0}
runs:
  a: {from: wall, at: [0, 40], parts: [{F1: flange}, {P1: {pipe: 8}}, {K1: cap}]}
  b: {from: wall, at: [24, 40], parts: [{F2: flange}, {P2: {pipe: 8}}, {K2: cap}]}
boards:
  S: {rests-on: [P1, P2], size: {x: 30, y: 5, z: 3/4}, reach: {left: 3, front: 2-1/2}, strap: {P1: 1, P2: 1}, stock: pine}
)");
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  CHECK(test::step_of(w, best, "F1/wall") < test::step_of(w, best, "S/P1"));
  CHECK(test::step_of(w, best, "F2/wall") < test::step_of(w, best, "S/P1"));
}

TEST_CASE("screws of floor flanges under a low shelf are driven before the shelf is on") {
  const Workpiece w = workpiece(R"(dryfit: 1
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left: {from: floor, at: [0, 0], parts: [{FL: flange}, {P1: {pipe: 3}}, {C1: coupling}, {P2: {pipe: 24}}, {K1: cap}]}
  right: {from: floor, at: [30, 0], parts: [{FR: flange}, {P3: {pipe: 3}}, {C2: coupling}, {P4: {pipe: 24}}, {K2: cap}]}
boards:
  S1: {through: [P2, P4], rests-on: [C1, C2], size: {x: 36, y: 9-1/4, z: 3/4}, reach: {left: 3, front: 4-5/8}}
)");
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  CHECK(best.effort.proven);
  CHECK(test::step_of(w, best, "FL/floor") < test::step_of(w, best, "S1/P2"));
  CHECK(test::step_of(w, best, "FR/floor") < test::step_of(w, best, "S1/P2"));
}

/// The board's step comes after those of all the flanges.
void check_goes_on_fast_feet(const std::string& text, const std::string& board,
                             const std::vector<std::string>& flanges) {
  const Workpiece w = workpiece(text);
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  CHECK(best.effort.proven);
  for (const std::string& flange : flanges) {
    CAPTURE(flange);
    CHECK(test::step_of(w, best, flange) < test::step_of(w, best, board));
  }
}

TEST_CASE("a heavy top on two posts with flanges goes on when both stand fast, and is screwed to them afterwards") {
  check_goes_on_fast_feet(test::kTopOnTwoPosts, "TOP/G1", {"F1/floor", "F2/floor"});
}

TEST_CASE("a heavy drilled shelf is lowered onto posts that stand fast, though the caps then go on in place") {
  check_goes_on_fast_feet(test::kHeavyShelf, "S/P2", {"F1/floor", "F2/floor"});
}

TEST_CASE("a light shelf is no reason to screw the posts down before they are made up") {
  std::string light = test::kHeavyShelf;
  light.replace(light.find("stock: oak"), 10, "mass: 4 kg");
  const Workpiece w = workpiece(light);
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  CHECK(best.effort.proven);
  CHECK(test::step_of(w, best, "S/P2") < test::step_of(w, best, "F1/floor"));
}

TEST_CASE("a heavy shelf is lowered onto wall arms, not carried to the wall with them") {
  check_goes_on_fast_feet(test::kShelfOnWallArms, "S/Q1", {"F1/wall", "F2/wall"});
}

TEST_CASE("feet that would shut a heavy shelf out are not waited for") {
  // With either foot on the floor the other leg has no room to be screwed together over the floor.
  const Workpiece w = workpiece(test::kShelfUnderAHoop);
  const BestOrder best = find_best_order(w.frame, w.list);
  REQUIRE(best.order.buildable);
  CHECK(best.effort.proven);
  CHECK(test::step_of(w, best, "S/P2") < test::step_of(w, best, "F1/floor"));
  CHECK(test::step_of(w, best, "S/P2") < test::step_of(w, best, "F2/floor"));
  for (const StepChoice& choice : best.choices) CHECK(choice.extra.heavy == 0.0);
  Undoer undoer(w.frame, w.list);
  CHECK(Effort(undoer, 2).heavy_last().none());
}

TEST_CASE("of two heavy shelves on four posts the upper one goes on when all feet are fast") {
  std::string text = "dryfit: 1\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\nruns:\n";
  const char* const at[] = {"[0, 0]", "[36, 0]", "[0, 14]", "[36, 14]"};
  for (int i = 1; i <= 4; ++i) {
    const std::string n = std::to_string(i);
    text += "  post " + n + ": {from: floor, at: " + at[i - 1] + ", parts: [F" + n + ": flange, A" + n +
            ": {pipe: 10}, C" + n + ": coupling, B" + n + ": {pipe: 18}, D" + n + ": coupling, G" + n +
            ": {pipe: 12}, K" + n + ": cap]}\n";
  }
  const std::string size = "size: {x: 48, y: 20, z: 1-1/2}, reach: {left: 6, front: 3}, stock: oak}\n";
  text += "boards:\n  S1: {through: [B1, B2, B3, B4], rests-on: [C1, C2, C3, C4], " + size +
          "  S2: {through: [G1, G2, G3, G4], rests-on: [D1, D2, D3, D4], " + size;
  check_goes_on_fast_feet(text, "S2/G1", {"F1/floor", "F2/floor", "F3/floor", "F4/floor"});
}

/// Every piece that is made up apart is made in steps that follow one another.
void check_in_one_go(const model::Frame& frame, const ContactList& list, const BestOrder& best) {
  const Grouping grouping = subassemblies_of(frame, list, best.order.steps);
  for (const Subassembly& piece : grouping.pieces) {
    int first = 0, last = 0, count = 0;
    for (const Step& step : best.order.steps) {
      const PartId part = list.contact(step.contacts.front()).a;
      if (step.number >= piece.joined_in || !std::binary_search(piece.parts.begin(), piece.parts.end(), part)) continue;
      if (first == 0) first = step.number;
      last = step.number;
      ++count;
    }
    INFO("piece " << piece.name << " of steps " << first << " to " << last);
    CHECK(last - first + 1 == count);
  }
}

TEST_CASE("pieces that are made up apart are made in one go") {
  int pieces = 0;
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const test::RandomFrame made = test::random_frame(seed, {6, 24});
    CAPTURE(made.text);
    const ContactList list = contacts_of(made.frame);
    BestOptions options;
    options.budget = 20'000;
    const BestOrder best = find_best_order(made.frame, list, options);
    if (!best.order.buildable) continue;
    pieces += static_cast<int>(subassemblies_of(made.frame, list, best.order.steps).pieces.size());
    check_in_one_go(made.frame, list, best);
  }
  CHECK(pieces >= 10);  // so that it says something
}

}  // namespace
}  // namespace dryfit::planner
