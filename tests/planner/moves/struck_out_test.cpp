/// A move that the judge refuses is struck out, and the search goes on without it.
#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <vector>

#include "planner/judge/replay.hpp"
#include "planner/moves/moves.hpp"
#include "planner/order/order.hpp"
#include "tests/support/frames/frame_text.hpp"

namespace dryfit::test {
namespace {

using planner::ContactId;
using planner::Refusal;

/// Two posts under a shelf that two caps keep there; `cap` is struck out in the finished frame.
struct Rack {
  model::Frame frame = model::read_frame(shelf_rack(), "rack.yaml");
  planner::ContactList list = planner::contacts_of(frame);
  ContactId cap = list.find("P3/K1.down");
  ContactId other_cap = list.find("P7/K2.down");

  void strike() {
    planner::StruckOut struck;
    struck.contacts = {cap};
    struck.made.resize(list.contacts.size());
    std::iota(struck.made.begin(), struck.made.end(), 0);
    list.struck_out.push_back(struck);
  }
};

}  // namespace

TEST_CASE("a move that is struck out is not found where as much is made, and is found where less is") {
  Rack rack;
  CHECK(planner::Undoer(rack.frame, rack.list).try_undo(planner::State(rack.list), rack.cap).legal);
  rack.strike();
  planner::Undoer undoer(rack.frame, rack.list);
  planner::State state(rack.list);
  const planner::Attempt refused = undoer.try_undo(state, rack.cap);
  CHECK_FALSE(refused.legal);
  REQUIRE(refused.refusals.size() == 1);
  CHECK(refused.refusals.front().why == Refusal::Why::struck_out);
  CHECK(undoer.ways(state, rack.cap).empty());
  CHECK(undoer.try_undo(state, rack.other_cap).legal);
  state.undo({rack.other_cap});
  CHECK(undoer.try_undo(state, rack.cap).legal);
  CHECK(undoer.ways(state, rack.cap).size() == 1);
}

TEST_CASE("a struck-out side leaves the other side of the thread to turn") {
  // Nothing holds this pole: either side of its joint can turn.
  Rack rack;
  rack.frame = model::read_frame(
      "dryfit: 1\npipe: {standard: npt, size: 3/4}\nruns:\n  pole:\n    at: [0, 0, 0]\n    go: up\n    parts:\n"
      "      - P3: {pipe: 6}\n      - C: coupling\n      - P4: {pipe: 8}\n",
      "pole.yaml");
  rack.list = planner::contacts_of(rack.frame);
  const ContactId joint = rack.list.find("P3/C.down");
  REQUIRE(joint != model::kNone);
  const planner::Move first = planner::Undoer(rack.frame, rack.list).try_undo(planner::State(rack.list), joint).move;
  rack.list.struck_out.push_back({{joint}, first.moving, {joint}});
  const planner::Attempt again = planner::Undoer(rack.frame, rack.list).try_undo(planner::State(rack.list), joint);
  CHECK(again.legal);
  CHECK(again.move.moving != first.moving);
}

TEST_CASE("an order is still found without the move that is struck out, and the judge takes it") {
  Rack rack;
  rack.strike();
  const planner::Order order = planner::find_order(rack.frame, rack.list);
  REQUIRE(order.buildable);
  CHECK(order.steps.back().contacts.front() != rack.cap);
  std::vector<planner::GivenStep> steps;
  for (const planner::Step& step : order.steps) steps.push_back({step.action, step.contacts, step.moving});
  const planner::ReplayResult judged = planner::replay(rack.frame, rack.list, steps);
  INFO(judged.why);
  CHECK(judged.legal);
}

TEST_CASE("a move that is struck out for good locks the frame, and says so") {
  Rack rack;
  rack.list.struck_out.push_back({{rack.cap}, {}, {}});
  const planner::Order order = planner::find_order(rack.frame, rack.list);
  CHECK_FALSE(order.buildable);
  CHECK(std::find(order.knot.begin(), order.knot.end(), rack.cap) != order.knot.end());
}

}  // namespace dryfit::test
