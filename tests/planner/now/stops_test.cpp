/// Places to stop at, on frames whose truth a fitter knows.
#include <doctest/doctest.h>

#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/now/stops.hpp"
#include "planner/order/order.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/frames/early_frames.hpp"

using namespace dryfit;
using planner::LeftAs;
using planner::Pose;
using planner::Stops;
using tests::Example;

namespace {

/// Steps that make these contacts one after the other; only what is made matters to a stop.
std::vector<planner::Step> steps_making(const Example& e, const std::vector<std::vector<const char*>>& contacts) {
  std::vector<planner::Step> steps;
  for (const auto& some : contacts) {
    planner::Step step;
    step.number = static_cast<int>(steps.size()) + 1;
    for (const char* id : some) step.contacts.push_back(e.id(id));
    steps.push_back(step);
  }
  return steps;
}

}  // namespace

TEST_CASE("a bare post on its flange falls over, so it is laid down; screwed to the floor it stays") {
  Example e(tests::trestle_text());
  const auto steps = steps_making(e, {{"A1/F1.up"}, {"A1/T1.down"}, {"B1/T1.up"}, {"B1/K1.down"}, {"F1/floor"}, {"A2/F2.up"}});
  Stops stops(e.undoer, steps, {}, 2);
  const planner::Stop post = stops.after(4);
  REQUIRE(post.pieces.size() == 1);
  CHECK(post.pieces.front().piece.parts.size() == 5);
  CHECK((post.pieces.front().as == LeftAs::laid_down || post.pieces.front().as == LeftAs::lies));
  CHECK(post.safe());
  const planner::Stop screwed = stops.after(5);
  REQUIRE(screwed.pieces.size() == 1);
  CHECK(screwed.pieces.front().as == LeftAs::screwed);
  CHECK(stops.after(6).pieces.size() == 2);
}

TEST_CASE("a board on uprights without caps is told to be loose, and with them it is not") {
  Example e(tests::trestle_text());
  const auto steps = steps_making(
      e, {{"A1/F1.up", "A1/T1.down", "B1/T1.up", "R/T1.right", "R/T2.left", "A2/T2.down", "A2/F2.up", "B2/T2.up"},
          {"S/B1", "S/B2"},
          {"B1/K1.down"},
          {"B2/K2.down"}});
  Stops stops(e.undoer, steps, {}, 2);
  const auto board = e.part("S").parts;
  CHECK(stops.after(1).pieces.front().piece.slack.empty());
  CHECK(stops.after(2).pieces.front().piece.slack == board);
  CHECK(stops.after(3).pieces.front().piece.slack.empty());
}

TEST_CASE("what would tip over with a loose board on it is no place to stop at") {
  // A table top laid on a flange on one post: nothing but the post carries it.
  Example e(tests::stack_text());
  const planner::Order order = planner::find_order(e.frame, e.list);
  REQUIRE(order.buildable);
  Stops stops(e.undoer, order.steps, {}, 2);
  for (int k = 1; k < static_cast<int>(order.steps.size()); ++k) {
    const planner::Stop stop = stops.after(k);
    for (const planner::LeftPiece& left : stop.pieces) {
      if (left.as == LeftAs::laid_down) CHECK(left.piece.slack.empty());
      if (left.as == LeftAs::propped) CHECK_FALSE(stop.safe());
    }
  }
  for (const planner::Stop& stop : stops.places()) CHECK(stop.safe());
}

TEST_CASE("as many stops as are asked for, in order, or none") {
  Example e(tests::trestle_text());
  const planner::Order order = planner::find_order(e.frame, e.list);
  Stops stops(e.undoer, order.steps, {}, 2);
  const auto places = static_cast<int>(stops.places().size());
  for (int count = 1; count <= places; ++count) {
    const auto best = stops.best(count);
    REQUIRE(best.has_value());
    CHECK(static_cast<int>(best->size()) == count);
    for (std::size_t i = 1; i < best->size(); ++i) CHECK((*best)[i - 1].after_step < (*best)[i].after_step);
  }
  CHECK_FALSE(stops.best(places + 1).has_value());
}
