/// What now, on frames whose truth a fitter knows.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "model/geometry/at.hpp"
#include "planner/now/meanwhile.hpp"
#include "planner/now/way_on.hpp"
#include "tests/support/answers/bounded.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/frames/early_frames.hpp"

using namespace dryfit;
using planner::ContactId;
using tests::Example;

namespace {

std::vector<char> all_but(const Example& e, const std::vector<ContactId>& open) {
  std::vector<char> made(e.list.contacts.size(), 1);
  for (const ContactId c : open) made[at(c)] = 0;
  return made;
}

std::set<std::string> ids(const Example& e, const std::vector<planner::Move>& moves) {
  std::set<std::string> names;
  for (const planner::Move& move : moves) {
    for (const ContactId c : move.contacts) names.insert(e.list.contact(c).id);
  }
  return names;
}

}  // namespace

TEST_CASE("from nothing and from the finished frame nothing has to come off") {
  Example e(tests::trestle_text());
  const planner::WayOn first = planner::way_on(e.frame, e.list, std::vector<char>(e.list.contacts.size(), 0));
  CHECK(first.undo.empty());
  CHECK(first.undo_moves.proven());
  CHECK(first.kept.empty());
  CHECK_FALSE(first.then.empty());
  const planner::WayOn last = planner::way_on(e.frame, e.list, all_but(e, {}));
  CHECK(last.undo.empty());
  CHECK(last.then.empty());
  CHECK(tests::is(last.effort, 0.0));
}

TEST_CASE("a board forgotten under two caps goes on when both caps are off again") {
  // The board slides down over both uprights at once; a cap is wider than its hole. The rest stays made.
  Example e(tests::trestle_text());
  const planner::WayOn way = planner::way_on(e.frame, e.list, all_but(e, {e.id("S/B1"), e.id("S/B2")}));
  CHECK(tests::is(way.undo_moves, 2.0));
  CHECK(ids(e, way.undo) == std::set<std::string>{"B1/K1.down", "B2/K2.down"});
  REQUIRE(way.then.size() == 3);
  CHECK(way.then.front().action == planner::Action::slide);
}

TEST_CASE("a board forgotten between couplings and elbows costs one joint on each of its two posts") {
  Example e(tests::free_rack_text(1));
  const planner::WayOn way = planner::way_on(e.frame, e.list, all_but(e, {e.id("S1/B1"), e.id("S1/B2")}));
  CHECK(tests::is(way.undo_moves, 2.0));
  CHECK(way.then.size() == 3);
}

TEST_CASE("a bad cap comes off by itself, and a bad upright with its cap and out of its board") {
  Example e(tests::trestle_text());
  const planner::WayOn cap = planner::way_on(e.frame, e.list, all_but(e, {}), e.part("K1").contacts);
  CHECK(tests::is(cap.undo_moves, 1.0));
  CHECK(cap.then.size() == 1);
  // Cap, thread, and up out of the hole; the board stays on the other upright.
  const planner::WayOn upright = planner::way_on(e.frame, e.list, all_but(e, {}), e.part("B1").contacts);
  CHECK(tests::is(upright.undo_moves, 3.0));
  CHECK(std::find(upright.kept.begin(), upright.kept.end(), e.id("S/B2")) != upright.kept.end());
}

TEST_CASE("without its board a trestle is made up to the two caps") {
  // A cap on would lock the board out, so the board and both caps are left: three moves, the slide first.
  Example e(tests::trestle_text());
  const planner::Meanwhile plan =
      planner::meanwhile(e.frame, e.list, std::vector<char>(e.list.contacts.size(), 0), e.part("S").contacts);
  REQUIRE(plan.possible);
  CHECK(tests::is(plan.left, 3.0));
  CHECK(plan.later.size() == 3);
  CHECK(plan.later.front().action == planner::Action::slide);
  CHECK(plan.later.front().number == static_cast<int>(plan.now.size()) + 1);
}

TEST_CASE("without a cap everything else is made") {
  Example e(tests::trestle_text());
  const planner::Meanwhile plan =
      planner::meanwhile(e.frame, e.list, std::vector<char>(e.list.contacts.size(), 0), e.part("K1").contacts);
  REQUIRE(plan.possible);
  CHECK(tests::is(plan.left, 1.0));
  CHECK(plan.later.size() == 1);
}

TEST_CASE("a closed ring that no move opens cannot stand, and a frame with one has no way on") {
  Example e(tests::square_text(false));
  const auto fault = planner::cannot_stand(e.undoer, all_but(e, {}));
  REQUIRE(fault.has_value());
  CHECK(fault->contacts.size() == e.list.contacts.size());
  // With one joint open its pipe still lies in the port all round the chain: that is no way to have it either.
  CHECK(planner::cannot_stand(e.undoer, all_but(e, {0})).has_value());
  std::vector<char> first(e.list.contacts.size(), 0);
  first.front() = 1;
  CHECK_FALSE(planner::cannot_stand(e.undoer, first).has_value());
  CHECK(planner::way_on(e.frame, e.list, first).locked);
}
