/// Which side is turned and which way something is slid, of several that undo the same: frames drawn by hand.
#include "planner/change/open_way.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "model/geometry/at.hpp"
#include "tests/support/frames/design.hpp"

using namespace dryfit;
using planner::Move;
using tests::Design;

namespace {

/// The way to undo the contact that moves this part up, or down where `up` is below nought.
Move way_of(planner::Undoer& undoer, const planner::State& state, planner::ContactId c, planner::PartId part,
            double up) {
  for (Move& way : undoer.ways(state, c)) {
    if (std::binary_search(way.moving.begin(), way.moving.end(), part) && way.travel.z * up > 0.0) return way;
  }
  FAIL("no such way");
  return {};
}

}  // namespace

// The post stands on the floor, its screws drawn. To turn its foot off from below the whole of it would have to be
// raised; the pipe on top is lighter and is turned out upwards.
TEST_CASE("the lighter pipe on top is turned, not what the frame stands on") {
  const Design a(R"(
dryfit: 1
name: Post
units: mm
pipe: {standard: npt, size: 3/4}
surfaces: {floor: {normal: up, at: 0}}
runs:
  post: {from: floor, at: [0, 0], parts: [F: flange, A: {pipe: 400}, C: coupling, B: {pipe: 100}]}
)");
  planner::Undoer undoer(a.frame, a.list);
  const planner::UndoCost cost(undoer, 2);
  planner::State state(a.list);
  state.undo({a.list.find("F/floor")});
  const planner::ContactId joint = a.list.find("B/C.up");
  std::vector<Move> moves{way_of(undoer, state, joint, a.frame.find("F"), -1.0)};
  planner::take_open_ways(undoer, cost, state, moves);
  REQUIRE(moves.size() == 1);
  CHECK(moves[0].moving == std::vector<planner::PartId>{a.frame.find("B")});
  CHECK(moves[0].travel.z > 0.0);
}

// A bar over the board, joined to nothing, stops it on its way up. The board weighs what the pipe weighs: the pipe
// drawn out downwards has the way that the board had up, and the other two ways are a little longer.
TEST_CASE("of ways that carry as much the shortest that is open is taken") {
  for (const double higher : {-2.0, 2.0}) {
    CAPTURE(higher);
    const std::string text = fmt::format(R"(
dryfit: 1
name: Board on a pipe
units: mm
pipe: {{standard: npt, size: 3/4}}
runs:
  pole: {{at: [0, 0, 0], go: up, parts: [P: {{pipe: 300}}]}}
  over: {{at: [60, -100, {}], go: back, parts: [X: {{pipe: 200}}]}}
boards:
  S: {{through: [P], height: {}, size: {{x: 200, y: 200, z: 20}}, reach: {{left: 100, front: 100}}, mass: 1 kg}}
)",
                                         higher > 0 ? 200 : 100, 140 + higher);
    Design a(text);
    const planner::PartId board = a.frame.find("S"), pipe = a.frame.find("P");
    a.frame.parts[dryfit::at(board)].mass = a.frame.parts[dryfit::at(pipe)].mass;
    planner::Undoer undoer(a.frame, a.list);
    const planner::UndoCost cost(undoer, 2);
    const planner::State state(a.list);
    // Toward the near end of the pipe, where the bar is.
    std::vector<Move> moves{way_of(undoer, state, a.list.find("S/P"), board, higher)};
    const double near = 160.0 - std::abs(higher);
    REQUIRE(norm(moves[0].travel) == doctest::Approx(near));
    planner::take_open_ways(undoer, cost, state, moves);
    CHECK(moves[0].moving == std::vector<planner::PartId>{pipe});
    CHECK(moves[0].travel.z * higher < 0.0);
    CHECK(norm(moves[0].travel) == doctest::Approx(near));
  }
}

// The coupling still lies on the bench: the board goes up over the pole's end, where it will be.
TEST_CASE("what is still made up somewhere else is not in the way") {
  const Design a(R"(
dryfit: 1
name: Pole without its coupling
units: mm
pipe: {standard: npt, size: 3/4}
runs:
  pole: {at: [0, 0, 0], go: up, parts: [K: cap, P: {pipe: 300}, C: coupling]}
boards:
  S: {through: [P], height: 200, size: {x: 200, y: 200, z: 20}, reach: {left: 100, front: 100}}
)");
  planner::Undoer undoer(a.frame, a.list);
  const planner::UndoCost cost(undoer, 2);
  planner::State state(a.list);
  state.undo({a.list.find("P/C.down")});
  const planner::PartId board = a.frame.find("S");
  std::vector<Move> moves{way_of(undoer, state, a.list.find("S/P"), board, 1.0)};
  planner::take_open_ways(undoer, cost, state, moves);
  CHECK(moves[0].moving == std::vector<planner::PartId>{board});
  CHECK(moves[0].travel.z > 0.0);
}
