#include "tests/support/frames/generated_frames.hpp"

#include <doctest/doctest.h>

#include "model/placing/reader.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"

using namespace dryfit;

namespace {

struct Planned {
  model::Frame frame;
  planner::ContactList list;
  planner::Order order;
};

Planned plan(const std::string& text) {
  Planned p;
  p.frame = model::read_frame(text, "generated.yaml");
  p.list = planner::contacts_of(p.frame);
  REQUIRE(planner::overlaps_of(p.frame, p.list).empty());
  p.order = planner::find_order(p.frame, p.list);
  return p;
}

void check_buildable(const std::string& text) {
  const Planned p = plan(text);
  REQUIRE(p.order.buildable);
  std::vector<planner::GivenStep> given;
  for (const planner::Step& s : p.order.steps) {
    given.push_back({s.action, s.contacts, s.moving});
    double mass = 0.0;
    for (const model::PartId part : s.moving) mass += p.frame.part(part).mass;
    CHECK(s.moving_mass == doctest::Approx(mass));
  }
  const planner::ReplayResult result = planner::replay(p.frame, p.list, given);
  INFO(result.why);
  CHECK(result.legal);
}

}  // namespace

TEST_CASE("racks, towers, ladders with unions and grids with unions are buildable, and replay agrees") {
  SUBCASE("one rack") { check_buildable(tests::rack_text(1, 3)); }
  SUBCASE("a row of racks") { check_buildable(tests::rack_text(4, 8)); }
  SUBCASE("a tower") { check_buildable(tests::tower_text(40)); }
  SUBCASE("a ladder whose rungs have unions") { check_buildable(tests::ladder_text(8, true)); }
  SUBCASE("a grid of rings with a union in every bar") { check_buildable(tests::grid_text(4, 4)); }
}

TEST_CASE("a ladder of two rungs or more without unions is one knot of all its rings' threads") {
  CHECK(plan(tests::ladder_text(1, false)).order.buildable);
  const Planned p = plan(tests::ladder_text(3, false));
  CHECK_FALSE(p.order.buildable);
  // Every thread above the feet: 3 rungs of 4 threads, and 2 stile pipes of 2 threads on each side.
  CHECK(p.order.knot.size() == 3 * 4 + 2 * 2 * 2);
  for (const auto& refusals : p.order.knot_refusals) {
    REQUIRE_FALSE(refusals.empty());
    CHECK(refusals.front().why == planner::Refusal::Why::ring);
  }
}

TEST_CASE("the work of deciding a row of racks grows with its length, not faster") {
  const auto work = [](int units) {
    const Planned p = plan(tests::rack_text(units, 8));
    return static_cast<double>(p.order.stats.parts_visited + p.order.stats.clearance_tests + p.order.stats.moves_tried);
  };
  CHECK(work(40) / work(10) < 4.5);  // four times as long; what is over 4 is an allowance set by hand
}
