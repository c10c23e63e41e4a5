/// Random small frames: the relation, lock-outs, prices, last calls, counts and careless builders against trying every
/// order, with moves that the brute-force oracle judges, which shares no code with the planner.
#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "planner/early/careless.hpp"
#include "planner/early/count_orders.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/frames/random_frames.hpp"

using namespace dryfit;

TEST_SUITE("slow") {
  TEST_CASE("on random frames what must go on early is what trying every order says") {
    int checked = 0, with_traps = 0, borderline = 0;
    std::map<std::string, int> families;
    for (std::uint32_t seed = 1; checked < 120 && seed < 2000; ++seed) {
      const test::RandomFrame random = test::random_frame(seed, {4, 10});
      tests::Example e(random.text);
      tests::OracleRules rules(e);
      const tests::EveryState all(rules);
      if (rules.borderline()) {  // a hair decides: the two may read it differently
        ++borderline;
        continue;
      }
      if (!all.buildable()) continue;
      CAPTURE(seed);
      CAPTURE(random.text);
      ++checked;
      ++families[random.family];
      tests::check_relation(e, all);
      tests::check_parts(e, all);
      tests::check_last_calls(e, all, rules);
      planner::CountLimits limits;
      limits.states = 100000;
      const planner::OrderCount count = planner::count_orders(e.rules, limits);
      REQUIRE(count.exact.has_value());
      CHECK(static_cast<double>(*count.exact) == all.orders());
      const planner::StepContacts steps = e.steps();
      for (const planner::NamedPart& part : planner::named_parts(e.frame, e.list)) {
        if (planner::last_call(e.undoer, part.contacts, steps).trap) {
          ++with_traps;
          break;
        }
      }
    }
    CHECK(checked == 120);
    // Floors set by hand: traps and several of the six families must stay common.
    CHECK(with_traps >= 20);
    CHECK(families.size() >= 4);
    CHECK(borderline < checked);
  }

  TEST_CASE("the share of careless builders who get stuck is the one that all their choices give") {
    int checked = 0, some_stuck = 0;
    for (std::uint32_t seed = 1; checked < 40 && seed < 2000; ++seed) {
      const test::RandomFrame random = test::random_frame(seed, {4, 8});
      tests::Example e(random.text);
      tests::OracleRules rules(e);
      const tests::EveryState all(rules);
      if (!all.buildable()) continue;
      const double share = tests::stuck_share(rules);
      if (rules.borderline()) continue;
      CAPTURE(seed);
      CAPTURE(random.text);
      ++checked;
      some_stuck += share > 0.0 && share < 1.0 ? 1 : 0;
      planner::CarelessLimits limits;
      limits.builders = 400;
      limits.moves_asked = 10000000;
      limits.most_priced = 0;
      int stuck = 0;
      for (const planner::CarelessBuild& build : planner::careless_builds(e.undoer, limits))
        stuck += build.stuck ? 1 : 0;
      // Four standard errors of 400 draws: one in 16,000 frames would fail by chance, and the seeds are fixed.
      const double error = std::sqrt(share * (1.0 - share) / 400.0);
      CHECK(std::abs(stuck / 400.0 - share) <= 4.0 * error + 1e-9);
    }
    CHECK(checked == 40);
    CHECK(some_stuck >= 5);  // a floor set by hand
  }
}
