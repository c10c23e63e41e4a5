/// Changes of the scenarios: what a fitter would do, and that every price is proven.
#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "model/editing/edit.hpp"
#include "model/placing/reader.hpp"
#include "planner/change/change.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using planner::ChangePlan;
using tests::Design;

namespace {

/// The frame with that pipe longer by an inch, in a place where nothing is in one place with another part.
std::optional<Design> longer(const std::string& text, const model::Part& pipe) {
  try {
    Design design(model::with_value(text, pipe.id + ".length", std::to_string(pipe.length + 25.4) + " mm"));
    if (!planner::overlaps_of(design.frame, design.list).empty() || !design.buildable()) return std::nullopt;
    return design;
  } catch (const model::InputError&) {
    return std::nullopt;
  }
}

}  // namespace

// A fitter takes such a rack down layer by layer. To move the right post: both threads of the rail, the right foot's
// screws, on each post one joint over each of three shelves, and the shelves, which are drilled anew, with the wall's
// screws of the top one: 2 + 1 + 2 * 3 + 3 + 1 = 13. One move more, the left foot's screws: with them on, what turns
// about the rail would swing through the floor. None can be saved: the top shelf may stay on the wall, but then either
// post leaves it by a move of its own.
TEST_CASE("the right post of a rack with three trapped shelves is moved in 14 moves, and no way takes fewer") {
  const std::string text = tests::slurp(tests::scenario("plant-rack"));
  const Design a(text);
  std::string wide = model::with_value(text, "R1.length", "36");
  for (const char* shelf : {"S1.size.x", "S2.size.x", "S3.size.x"}) wide = model::with_value(wide, shelf, "42");
  for (const std::string& to : {model::with_value(text, "R1.length", "24"), wide}) {
    const Design b(to);
    const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
    planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
    const ChangePlan plan = changer.plan(a.complete());
    tests::check_plan(a, b, m, a.complete(), plan);
    CHECK(plan.undo.size() == 14);
    CHECK(plan.price.proven());
  }
}

TEST_CASE("of every scenario the change of any one pipe is priced with a proof") {
  int tried = 0;
  for (const std::string& file : tests::scenario_files()) {
    CAPTURE(file);
    const std::string text = tests::slurp(file);
    const Design a(text);
    if (!a.buildable()) continue;
    for (const model::Part& pipe : a.frame.parts) {
      if (pipe.kind != model::PartKind::pipe) continue;
      CAPTURE(pipe.id);
      const std::optional<Design> b = longer(text, pipe);
      if (!b) continue;
      ++tried;
      const planner::Matching m = planner::match_designs(a.frame, a.list, b->frame, b->list);
      CHECK(std::count(m.new_of_old.begin(), m.new_of_old.end(), model::kNone) == 1);
      planner::Changer changer(a.frame, a.list, b->frame, b->list, m);
      const ChangePlan plan = changer.plan(a.complete());
      CHECK(plan.price.proven());
      tests::check_plan(a, *b, m, a.complete(), plan);
    }
  }
  CHECK(tried >= 60);  // a floor set by hand
}

// As many steps as there are, as many half-built racks: none of their prices is left open, and a step more costs at
// most a move more, for it can be undone first.
TEST_CASE("when a post moves under trapped shelves the price after every step is proven, with a tenth of the budget") {
  for (const auto& [scenario, pipe, length] :
       {std::tuple{"plant-rack", "R1", "24"}, std::tuple{"hall-rack", "R1", "12"},
        std::tuple{"seed-store", "RR", "11"}}) {
    CAPTURE(scenario);
    const std::string text = tests::slurp(tests::scenario(scenario));
    const Design a(text), b(model::with_value(text, std::string(pipe) + ".length", length));
    const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
    planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
    std::vector<std::vector<planner::ContactId>> steps;
    for (const planner::Step& step : planner::find_order(a.frame, a.list).steps) steps.push_back(step.contacts);
    const auto curve = planner::price_by_step(changer, a.list, steps, 2000);
    REQUIRE(curve.size() == steps.size() + 1);
    CHECK(curve.front().moves == 0);
    for (std::size_t k = 0; k < curve.size(); ++k) {
      CAPTURE(k);
      CHECK(curve[k].price.proven());
      if (k > 0) CHECK(curve[k].moves <= curve[k - 1].moves + 1);
    }
  }
}
