/// Last calls that another one would be with 1/64 in more room or less. A shelf on a wall, round a post of two pipes
/// with a flange at either end: over the coupling it goes or does not, over the flange never.
#include "planner/early/hair_call.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "planner/early/trap.hpp"
#include "planner/judge/tight_steps.hpp"
#include "planner/order/order.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/random_benches.hpp"

namespace dryfit::test {
namespace {

std::string shelf(double hole) {
  return fmt::format(R"(
dryfit: 1
name: Shelf round a post
units: mm
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
  wall: {{normal: front, at: 75}}
runs:
  post: {{from: floor, at: [0, 0], parts: [F: flange, A: {{pipe: 200}}, C: coupling, B: {{pipe: 200}}, G: flange]}}
boards:
  S: {{through: [A], hole: {}, height: 120, size: {{x: 200, y: 150, z: 19}}, reach: {{left: 100, back: 75}}, fix: [wall]}}
)",
                     hole);
}

const std::vector<std::vector<std::string>> kOrder = {{"F/floor"},  {"A/F.up"}, {"S/A"},     {"S/wall"},
                                                      {"A/C.down"}, {"B/C.up"}, {"B/G.down"}};

struct Calls {
  int as_drawn = 0;
  int less = -1, more = -1;  ///< -1: no other
};

Calls calls_of(double hole) {
  const Workpiece piece = workpiece(shelf(hole));
  planner::StepContacts steps;
  for (const auto& ids : kOrder) {
    steps.emplace_back();
    for (const std::string& id : ids) steps.back().push_back(piece.list.find(id));
  }
  std::vector<planner::ContactId> own{piece.list.find("S/A"), piece.list.find("S/wall")};
  std::sort(own.begin(), own.end());
  planner::Undoer undoer(piece.frame, piece.list);
  const planner::LastCall told = planner::last_call(undoer, own, steps);
  planner::HairCalls again(piece.frame, piece.list, steps, true);
  const planner::HairCall hair = again.of(own, told);
  return {told.step, hair.less ? hair.less->step : -1, hair.more ? hair.more->step : -1};
}

}  // namespace

// The coupling is 37.03 mm wide (1.458 in, from memory) and half a millimetre of play is asked for; 1/64 in is 0.397
// mm; but a hole that is 1/32 in wider than what goes through, as bits are chosen, is no near miss (common practice).
TEST_CASE("a hole within 1/64 in of letting a coupling through is told with the last call there would be then") {
  constexpr int kCoupling = 5, kFlange = 7;
  struct Known {
    double hole;
    int as_drawn, less, more;
  };
  for (const Known& known :
       {Known{36.8, kCoupling, -1, -1}, Known{37.1, kCoupling, -1, -1}, Known{37.2, kCoupling, -1, kFlange},
        Known{37.3, kCoupling, -1, kFlange}, Known{37.5, kCoupling, -1, kFlange}, Known{37.6, kFlange, kCoupling, -1},
        Known{37.8, kFlange, kCoupling, -1}, Known{37.9, kFlange, -1, -1}, Known{38.0, kFlange, -1, -1},
        Known{60.0, kFlange, -1, -1}}) {
    CAPTURE(known.hole);
    const Calls calls = calls_of(known.hole);
    CHECK(calls.as_drawn == known.as_drawn);
    CHECK(calls.less == known.less);
    CHECK(calls.more == known.more);
  }
}

TEST_CASE("random frames with a hole near a coupling have last calls that a hair decides") {
  int orders = 0, asked = 0, told = 0;
  for (std::uint32_t seed = 1; seed <= 240; ++seed) {
    CAPTURE(seed);
    const RandomBench bench = random_bench(seed, {3, 16});
    if (!bench.traits.near_hole) continue;
    const planner::ContactList list = planner::contacts_of(bench.frame);
    const planner::Order order = planner::find_order(bench.frame, list);
    if (!order.buildable) continue;
    CAPTURE(bench.text);
    ++orders;
    planner::StepContacts steps;
    std::vector<planner::GivenStep> given;
    for (const planner::Step& step : order.steps) {
      steps.push_back(step.contacts);
      given.push_back({step.action, step.contacts, step.moving});
    }
    const bool still_legal = planner::tight_steps(bench.frame, list, given).empty();
    planner::Undoer undoer(bench.frame, list);
    planner::HairCalls again(bench.frame, list, steps, still_legal);
    for (const planner::NamedPart& part : planner::named_parts(bench.frame, list)) {
      if (part.contacts.empty()) continue;
      const planner::LastCall call = planner::last_call(undoer, part.contacts, steps);
      const planner::HairCall hair = again.of(part.contacts, call);
      ++asked;
      told += hair.any() ? 1 : 0;
      if (hair.less) CHECK(hair.less->step != call.step);
      if (hair.more) CHECK(hair.more->step != call.step);
      if (!still_legal) CHECK_FALSE(hair.less);
    }
  }
  MESSAGE("orders with a near hole " << orders << ", parts " << asked << ", within a hair " << told);
  CHECK(orders >= 10);  // floors set by hand
  CHECK(told >= 1);
}

}  // namespace dryfit::test
