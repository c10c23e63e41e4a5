/// Long work that is ended from outside: what is said by then holds, and without an end nothing is different.
#include "planner/base/foreman.hpp"

#include <doctest/doctest.h>

#include "model/editing/edit.hpp"
#include "planner/best/best_order.hpp"
#include "planner/change/change.hpp"
#include "planner/cure/cure.hpp"
#include "planner/early/careless.hpp"
#include "planner/early/count_orders.hpp"
#include "planner/early/swap_price.hpp"
#include "planner/judge/replay.hpp"
#include "planner/state/named_part.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/frames/given_steps.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

/// Lets so many units of work pass.
class Patience : public Foreman {
 public:
  explicit Patience(long long units) : left_(units) {}
  bool go_on(long long done, long long most) override {
    CHECK(done >= 0);
    CHECK(most > 0);
    ++asked;
    return left_-- > 0;
  }
  long long asked = 0;

 private:
  long long left_;
};

constexpr long long kEndless = 1LL << 60;

std::vector<std::vector<ContactId>> contacts_of_steps(const std::vector<Step>& steps) {
  std::vector<std::vector<ContactId>> all;
  all.reserve(steps.size());
  for (const Step& step : steps) all.push_back(step.contacts);
  return all;
}

bool legal(const Workpiece& w, const BestOrder& best) {
  std::vector<GivenStep> steps;
  for (const Step& step : best.order.steps) steps.push_back({step.action, step.contacts, step.moving});
  return replay(w.frame, w.list, steps).legal;
}

}  // namespace

TEST_CASE("wherever the search for an order is ended, the order is legal and its bound holds") {
  const Workpiece w = workpiece(tests::ladder_text(4, true));
  BestOptions options;
  Patience endless(kEndless);
  options.foreman = &endless;
  const BestOrder whole = find_best_order(w.frame, w.list, options);
  REQUIRE(whole.effort.proven);
  CHECK_FALSE(whole.effort.stopped);
  CHECK(contacts_of_steps(whole.order.steps) == contacts_of_steps(find_best_order(w.frame, w.list).order.steps));
  int unproven = 0;
  for (long long units = 0; units < endless.asked; units += 1 + endless.asked / 40) {
    CAPTURE(units);
    Patience patience(units);
    options.foreman = &patience;
    const BestOrder best = find_best_order(w.frame, w.list, options);
    CHECK(best.effort.stopped);
    CHECK(best.order.buildable);
    CHECK(legal(w, best));
    CHECK(best.effort.value >= whole.effort.value - 1e-9);
    CHECK(best.effort.lower_bound <= whole.effort.value + 1e-9);
    CHECK(best.effort.lower_bound >= best.effort.base - 1e-9);
    double extra = best.effort.handling;
    for (const StepChoice& choice : best.choices) extra += choice.extra.total();
    CHECK(best.effort.value == doctest::Approx(best.effort.base + extra));
    if (!best.effort.proven) ++unproven;
  }
  CHECK(unproven > 10);  // of some 40 places to end at; a floor set by hand
}

TEST_CASE("once it is told to end, the search asks for no more than taking the rest apart takes") {
  const Workpiece w = workpiece(tests::ladder_text(12, true));
  Patience none(0);
  BestOptions options;
  options.foreman = &none;
  const BestOrder best = find_best_order(w.frame, w.list, options);
  CHECK(best.effort.stopped);
  CHECK(legal(w, best));
  // The usual budget is 200,000 moves; a peeling asks a few times for each of the 110 contacts: 12 rungs
  // of 4 threads and a nut, 22 stile pipes of 2 threads, 2 feet of 2 threads and a flange.
  CHECK(best.effort.moves_tried < 5000);
}

TEST_CASE("the price of a change that is ended early is between its bounds, on every step") {
  const std::string text = tests::ladder_text(3, true);
  const Workpiece a = workpiece(text), b = workpiece(model::with_value(text, "PL1.length", "12"));
  const Matching matching = match_designs(a.frame, a.list, b.frame, b.list);
  Changer changer(a.frame, a.list, b.frame, b.list, matching);
  const std::vector<char> built(a.list.contacts.size(), 1);
  const ChangePlan whole = changer.plan(built);
  REQUIRE(whole.price.proven());
  int open = 0;
  for (const long long units : {0LL, 1LL, 2LL, 5LL, 20LL}) {
    CAPTURE(units);
    Patience patience(units);
    Changer fresh(a.frame, a.list, b.frame, b.list, matching);  // one that has not found anything out
    const ChangePlan plan = fresh.plan(built, 20000, &patience);
    CHECK(plan.price.at_least <= whole.price.at_most);
    CHECK(plan.price.at_most >= whole.price.at_most);
    if (!plan.price.proven()) ++open;
  }
  CHECK(open > 0);
  const auto steps = contacts_of_steps(find_order(a.frame, a.list).steps);
  const auto curve = price_by_step(changer, a.list, steps, 20000);
  Patience some(3);
  const auto ended = price_by_step(changer, a.list, steps, 20000, &some);
  REQUIRE(ended.size() == curve.size());
  for (std::size_t k = 0; k < curve.size(); ++k) {
    CAPTURE(k);
    CHECK(ended[k].price.at_least <= curve[k].price.at_most);
    CHECK(ended[k].price.at_most >= curve[k].price.at_most);
  }
}

TEST_CASE("counting, careless builders and cures end with what they have") {
  const Workpiece w = workpiece(tests::ladder_text(3, true));
  Undoer undoer(w.frame, w.list);
  FrameRules rules(undoer);
  Patience count(5);
  CountLimits limits;
  limits.foreman = &count;
  const OrderCount counted = count_orders(rules, limits);
  CHECK_FALSE(counted.counted);
  CHECK(counted.samples == 0);
  Patience three(3);
  CarelessLimits careless;
  careless.foreman = &three;
  CHECK(careless_builds(undoer, careless).size() == 3);

  const std::vector<NamedPart> parts = named_parts(w.frame, w.list);
  const auto steps = contacts_of_steps(find_order(w.frame, w.list).steps);
  Patience hundred(100);
  const auto swaps = swap_prices(undoer, parts, steps, 2000, 400000);
  const auto ended = swap_prices(undoer, parts, steps, 2000, 400000, &hundred);
  int open = 0;
  for (std::size_t p = 0; p < parts.size(); ++p) {
    for (std::size_t k = 0; k <= steps.size(); ++k) {
      CHECK(ended[p].after[k].at_least <= swaps[p].after[k].at_most);
      CHECK(ended[p].after[k].at_most >= swaps[p].after[k].at_least);
      if (ended[p].after[k].at_least < ended[p].after[k].at_most) ++open;
    }
  }
  CHECK(open > 0);

  const std::string locked = tests::ladder_text(2, false);
  const Workpiece knot = workpiece(locked);
  const std::vector<ContactId> left = find_order(knot.frame, knot.list).knot;
  REQUIRE_FALSE(left.empty());
  const auto all = cures_for_knot(knot.frame, knot.list, locked, left);
  REQUIRE_FALSE(all.empty());
  Patience none(0);
  CureLimits cures;
  cures.foreman = &none;
  CHECK(cures_for_knot(knot.frame, knot.list, locked, left, cures).empty());
}

}  // namespace dryfit::planner
