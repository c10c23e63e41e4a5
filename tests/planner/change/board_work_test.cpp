// What a drilled board needs to serve in another design. Invented boards: only the geometry is tested.
#include "planner/change/board_work.hpp"

#include <doctest/doctest.h>

using namespace dryfit;
using planner::Laid;

namespace {

/// A board that lies flat with its left front corner at (left, 0), drilled at (x, y) from that corner.
struct Drilled {
  double x = 0.0;
  double y = 0.0;
  double diameter = 28.0;
  bool notch = false;
};

model::Frame board_of(double left, double wide, double deep, const std::vector<Drilled>& holes) {
  model::Frame frame;
  model::Part part;
  part.id = part.label = "S1";
  part.kind = model::PartKind::board;
  part.board = 0;
  model::Board board;
  board.part = 0;
  board.lo = {left, 0, 0};
  board.hi = {left + wide, deep, 19};
  for (const Drilled& d : holes) {
    model::Hole hole;
    hole.centre = {left + d.x, d.y, 9.5};
    hole.diameter = d.diameter;
    hole.notch = d.notch;
    hole.open = model::kFront;
    board.holes.push_back(hole);
  }
  frame.parts.push_back(part);
  frame.boards.push_back(board);
  return frame;
}

planner::BoardWork work(const model::Frame& before, const model::Frame& after, bool may_turn) {
  return planner::board_work(before, 0, after, 0, may_turn);
}

}  // namespace

TEST_CASE("a board with the holes that are wanted needs no work, wherever it lies") {
  const auto before = board_of(0, 900, 230, {{50, 115}, {850, 115}});
  const auto after = board_of(300, 900, 230, {{50, 115}, {850, 115}});
  const planner::BoardWork w = work(before, after, true);
  CHECK_FALSE(w.to_drill());
  CHECK(w.laid == Laid::as_before);
  CHECK(w.left_open.empty());
}

TEST_CASE("a post that moves leaves its old hole open and wants a new one") {
  const auto before = board_of(0, 900, 230, {{50, 115}, {500, 115}});
  const auto after = board_of(0, 900, 230, {{50, 115}, {800, 115}});
  const planner::BoardWork w = work(before, after, true);
  CHECK(w.to_drill());
  CHECK(w.holes[0].ready);
  CHECK(w.holes[0].from == 0);
  CHECK_FALSE(w.holes[1].ready);
  CHECK(w.holes[1].from == -1);
  CHECK(w.holes[1].runs_into == -1);
  CHECK(w.left_open == std::vector<int>{1});
}

TEST_CASE("a board is turned end for end where that saves a hole, and only when it comes off anyway") {
  const auto before = board_of(0, 900, 230, {{50, 100}, {600, 100}});
  // The same two holes seen from the other end: 900 - 50 and 900 - 600 from the left, 230 - 100 from the front.
  const auto after = board_of(0, 900, 230, {{850, 130}, {300, 130}});
  const planner::BoardWork w = work(before, after, true);
  CHECK_FALSE(w.to_drill());
  CHECK(w.laid == Laid::half_turn);
  CHECK(w.holes[0].from == 0);
  CHECK(w.holes[1].from == 1);
  CHECK(work(before, after, false).to_drill());
  CHECK(work(before, after, false).left_open.size() == 2);
}

TEST_CASE("a board is turned over where only that puts its holes in place") {
  const auto before = board_of(0, 900, 230, {{50, 100}, {600, 100}});
  const auto after = board_of(0, 900, 230, {{50, 130}, {600, 130}});  // 230 - 100 from the front
  const planner::BoardWork w = work(before, after, true);
  CHECK_FALSE(w.to_drill());
  CHECK(w.laid == Laid::other_face_up);
}

TEST_CASE("a thicker pipe in the same place opens the old hole out; a thinner one finds it too wide") {
  const auto narrow = board_of(0, 900, 230, {{50, 115, 28}, {850, 115, 28}});
  const auto wide = board_of(0, 900, 230, {{50, 115, 35}, {850, 115, 28}});
  const planner::BoardWork opened = work(narrow, wide, true);
  CHECK(opened.to_drill());
  CHECK_FALSE(opened.holes[0].ready);
  CHECK(opened.holes[0].from == 0);
  CHECK(opened.holes[0].runs_into == -1);  // it is that hole
  CHECK(opened.holes[1].ready);
  CHECK(opened.left_open.empty());
  const planner::BoardWork closed = work(wide, narrow, false);
  CHECK(closed.to_drill());
  CHECK(closed.holes[0].from == -1);
  CHECK(closed.holes[0].runs_into == 0);
}

TEST_CASE("a new hole beside the old one breaks into it when the two overlap") {
  const auto before = board_of(0, 900, 230, {{50, 115}});
  // Two holes of 28 overlap when their middles are nearer than 28: 27 is, 29 is not.
  CHECK(work(before, board_of(0, 900, 230, {{77, 115}}), true).holes[0].runs_into == 0);
  CHECK(work(before, board_of(0, 900, 230, {{79, 115}}), true).holes[0].runs_into == -1);
}

TEST_CASE("a hole is sawn open to a slot of its width in the same place") {
  const auto before = board_of(0, 900, 230, {{50, 115, 28}});
  const planner::BoardWork w = work(before, board_of(0, 900, 230, {{50, 115, 28, true}}), true);
  CHECK(w.to_drill());
  CHECK(w.holes[0].from == 0);
  CHECK(w.left_open.empty());
}
