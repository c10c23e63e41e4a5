// Laws that every change of design obeys, on random small frames. Invented frames: only agreement is tested.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <queue>
#include <set>

#include "model/geometry/at.hpp"
#include "planner/change/change.hpp"
#include "planner/early/fewest.hpp"
#include "planner/early/swap_price.hpp"
#include "planner/effort/effort.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"
#include "tests/support/every/every_state.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/frames/random_frames.hpp"

using namespace dryfit;
using planner::ContactId;
using tests::Design;

namespace {

/// The design against itself with one part taken for another piece.
planner::Matching all_but(const Design& a, const planner::NamedPart& part) {
  planner::Matching m = planner::match_designs(a.frame, a.list, a.frame, a.list);
  for (const model::PartId p : part.parts) {
    m.new_of_old[at(p)] = m.old_of_new[at(p)] = model::kNone;
  }
  for (const ContactId c : part.contacts) m.kept_as[at(c)] = model::kNone;
  return m;
}

std::vector<planner::GivenStep> given(const model::Frame& frame, const std::vector<planner::Move>& undo,
                                      bool backwards) {
  std::vector<planner::GivenStep> steps;
  for (const planner::Move& move : undo) steps.push_back({planner::action_of(frame, move), move.contacts, {}});
  if (backwards) std::reverse(steps.begin(), steps.end());
  return steps;
}

/// Steps that make just the contacts of `made`, from nothing.
std::vector<planner::GivenStep> steps_to(const Design& a, const std::vector<char>& made) {
  planner::Undoer undoer(a.frame, a.list);
  planner::State state(a.list, made);
  const planner::Peeling peeling = planner::peel(undoer, state);
  REQUIRE(peeling.remaining.empty());
  return given(a.frame, peeling.moves, true);
}

}  // namespace

TEST_CASE("swapping one part from complete costs the fewest moves that free its contacts, by brute force") {
  int tried = 0, dear = 0;
  for (std::uint32_t seed = 1; tried < 60 && seed < 5000; ++seed) {
    CAPTURE(seed);
    const Design a(test::random_frame(seed, {3, 11}).frame);
    if (!a.buildable()) continue;
    planner::Undoer undoer(a.frame, a.list);
    planner::FrameRules rules(undoer);
    const tests::EveryState every(rules);
    const planner::Order order = planner::find_order(a.frame, a.list);
    std::vector<std::vector<ContactId>> steps;
    for (const planner::Step& step : order.steps) steps.push_back(step.contacts);
    const auto parts = planner::named_parts(a.frame, a.list);
    const auto prices = planner::swap_prices(undoer, parts, steps);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      CAPTURE(parts[i].label);
      const int least = every.fewest(parts[i].contacts);
      const planner::Matching m = all_but(a, parts[i]);
      planner::Changer changer(a.frame, a.list, a.frame, a.list, m);
      const planner::ChangePlan plan = changer.plan(a.complete());
      CHECK(plan.price.proven());
      CHECK(static_cast<int>(plan.undo.size()) == least);
      CHECK(prices[i].after.back().at_least <= least);
      CHECK(prices[i].after.back().at_most >= least);
      CHECK(prices[i].after.back().at_least <= prices[i].after.back().at_most);
      if (least > 1) ++dear;
    }
    ++tried;
  }
  CHECK(tried == 60);
  CHECK(dear >= 100);  // a floor set by hand, as the others below: every case must stay common
}

TEST_CASE("the bounds of a swap after each step are true at any budget, by brute force") {
  int tried = 0, open = 0;
  for (std::uint32_t seed = 1; tried < 30 && seed < 5000; ++seed) {
    CAPTURE(seed);
    const Design a(test::random_frame(seed, {4, 10}).frame);
    if (!a.buildable()) continue;
    ++tried;
    planner::Undoer undoer(a.frame, a.list);
    planner::FrameRules rules(undoer);
    std::vector<std::vector<ContactId>> steps;
    for (const planner::Step& step : planner::find_order(a.frame, a.list).steps) steps.push_back(step.contacts);
    const auto parts = planner::named_parts(a.frame, a.list);
    std::vector<char> made(a.list.contacts.size(), 0);
    std::vector<std::vector<int>> least(parts.size(), std::vector<int>{0});
    for (const auto& step : steps) {
      for (const ContactId c : step) made[static_cast<std::size_t>(c)] = 1;
      const tests::EveryState every(rules, made);
      for (std::size_t i = 0; i < parts.size(); ++i) least[i].push_back(every.fewest(parts[i].contacts));
    }
    for (const long long budget : {1, 2, 3, 5, 10, 20, 2000}) {
      CAPTURE(budget);
      const auto prices = planner::swap_prices(undoer, parts, steps, budget, budget * 20);
      for (std::size_t i = 0; i < parts.size(); ++i) {
        CAPTURE(parts[i].label);
        for (std::size_t k = 0; k < prices[i].after.size(); ++k) {
          CAPTURE(k);
          CHECK(prices[i].after[k].at_least <= least[i][k]);
          CHECK(prices[i].after[k].at_most >= least[i][k]);
          if (prices[i].after[k].at_least < prices[i].after[k].at_most) ++open;
        }
      }
    }
  }
  CHECK(tried == 30);
  CHECK(open >= 80);  // a floor set by hand: small budgets must leave gaps
}

TEST_CASE("the price of a swap after each step is that of the change from that state, and nothing while it is not on") {
  int tried = 0, points = 0, proven = 0;
  for (std::uint32_t seed = 1; tried < 40 && seed < 5000; ++seed) {
    CAPTURE(seed);
    const Design a(test::random_frame(seed, {5, 14}).frame);
    if (!a.buildable()) continue;
    ++tried;
    planner::Undoer undoer(a.frame, a.list);
    const planner::Order order = planner::find_order(a.frame, a.list);
    std::vector<std::vector<ContactId>> steps;
    for (const planner::Step& step : order.steps) steps.push_back(step.contacts);
    const auto parts = planner::named_parts(a.frame, a.list);
    const auto prices = planner::swap_prices(undoer, parts, steps);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      CAPTURE(parts[i].label);
      const planner::Matching m = all_but(a, parts[i]);
      planner::Changer changer(a.frame, a.list, a.frame, a.list, m);
      const auto curve = planner::price_by_step(changer, a.list, steps, 20000);
      REQUIRE(curve.size() == prices[i].after.size());
      for (std::size_t k = 0; k < curve.size(); ++k) {
        CAPTURE(k);
        CHECK(prices[i].after[k].at_least <= curve[k].price.at_most);
        CHECK(prices[i].after[k].at_most >= curve[k].price.at_least);
        ++points;
        if (prices[i].after[k].at_least == prices[i].after[k].at_most) ++proven;
        if (static_cast<int>(k) < prices[i].first_on) CHECK(curve[k].moves == 0);
      }
    }
  }
  CHECK(tried == 40);
  CHECK(proven * 10 >= points * 9);
}

TEST_CASE(
    "replay accepts the undo moves as the end of an order of the old frame, and the steps on as that of the new") {
  int tried = 0, teardowns = 0;
  for (std::uint32_t seed = 1; tried < 80 && seed < 20000; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const auto designs = tests::random_change(seed, {4, 16}, rng);
    if (!designs) continue;
    ++tried;
    const Design &a = designs->first, &b = designs->second;
    const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
    for (const auto by : {planner::ChangePrice::moves, planner::ChangePrice::effort}) {
      planner::Changer changer(a.frame, a.list, b.frame, b.list, m, by);
      const planner::ChangePlan plan = changer.plan(a.complete(), 2000);
      if (!plan.undo.empty()) ++teardowns;
      std::vector<char> kept(a.list.contacts.size(), 0), image(b.list.contacts.size(), 0);
      for (const ContactId c : plan.kept) {
        kept[at(c)] = 1;
        image[at(m.kept_as[at(c)])] = 1;
      }
      auto old_order = steps_to(a, kept);
      for (auto& step : given(a.frame, plan.undo, true)) old_order.push_back(std::move(step));
      const auto old_judged = planner::replay(a.frame, a.list, old_order);
      CHECK_MESSAGE(old_judged.legal, old_judged.why);
      auto new_order = steps_to(b, image);
      for (const planner::Step& step : plan.then) new_order.push_back({step.action, step.contacts, step.moving});
      const auto new_judged = planner::replay(b.frame, b.list, new_order);
      CHECK_MESSAGE(new_judged.legal, new_judged.why);
    }
  }
  CHECK(tried == 80);
  CHECK(teardowns >= 80);
}

namespace {

/// The side that goes down stands on the floor, which it would be turned into, and the other, lighter, may turn: 30 s.
double raised(const model::Frame& frame, const std::vector<planner::Move>& ways, const planner::Move& move) {
  const auto floor = std::find_if(frame.surfaces.begin(), frame.surfaces.end(),
                                  [](const model::Surface& s) { return s.normal == model::kUp; });
  const model::Vec3 way = move.travel;
  if (floor == frame.surfaces.end() || move.kind != planner::MoveKind::unscrew) return 0.0;
  if (-way.z <= std::max(std::abs(way.x), std::abs(way.y))) return 0.0;
  double low = 1e9;
  for (const model::PartId p : move.moving) {
    for (const model::Solid& solid : frame.part(p).solids) low = std::min(low, bounds_of(solid).lo.z + way.z);
  }
  const auto lighter = [&](const planner::Move& other) {
    return other.moving != move.moving && other.mass < move.mass;
  };
  return low < floor->at && std::any_of(ways.begin(), ways.end(), lighter) ? 30.0 : 0.0;
}

/// Least effort by Dijkstra's search over every state, with every way of every contact priced anew: no bound, no
/// shortcut.
double least_effort(planner::Undoer& undoer, const std::function<bool(const std::vector<char>&)>& goal,
                    const std::vector<char>& built) {
  const planner::Effort effort(undoer, 2);
  std::map<std::vector<char>, double> paid{{built, 0.0}};
  using Entry = std::pair<double, std::vector<char>>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
  open.emplace(0.0, built);
  while (!open.empty()) {
    const auto [cost, made] = open.top();
    open.pop();
    if (cost > paid[made] + 1e-12) continue;
    if (goal(made)) return cost;
    const planner::State state(undoer.list(), made);
    for (ContactId c = 0; c < static_cast<ContactId>(made.size()); ++c) {
      if (made[at(c)] == 0) continue;
      const std::vector<planner::Move> ways = undoer.ways(state, c);
      for (const planner::Move& move : ways) {
        double price = effort.price(state, move).extra.total() + raised(undoer.frame(), ways, move);
        std::vector<char> next = made;
        for (const ContactId d : move.contacts) {
          price += effort.making(d);
          next[at(d)] = 0;
        }
        const auto [at, fresh] = paid.emplace(next, cost + price);
        if (!fresh && at->second <= cost + price + 1e-12) continue;
        at->second = cost + price;
        open.emplace(cost + price, std::move(next));
      }
    }
  }
  return -1.0;
}

}  // namespace

TEST_CASE("the undo moves of least effort of 150 random changes cost what a search over every state finds") {
  int tried = 0, teardown = 0, proven = 0, dearer = 0;
  for (std::uint32_t seed = 1; tried < 150 && seed < 20000; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const auto designs = tests::random_change(seed, {3, 10}, rng);
    if (!designs) continue;
    ++tried;
    const Design &a = designs->first, &b = designs->second;
    const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
    planner::Undoer old_undoer(a.frame, a.list), new_undoer(b.frame, b.list);
    planner::FrameRules new_rules(new_undoer);
    const tests::EveryState completable(new_rules);
    const auto goal = [&](const std::vector<char>& made) {
      std::vector<char> image(b.list.contacts.size(), 0);
      for (std::size_t c = 0; c < made.size(); ++c) {
        if (made[c] == 0) continue;
        if (m.kept_as[c] == model::kNone) return false;
        image[at(m.kept_as[c])] = 1;
      }
      return completable.states().contains(image);
    };
    planner::Changer by_effort(a.frame, a.list, b.frame, b.list, m, planner::ChangePrice::effort);
    const planner::ChangePlan plan = by_effort.plan(a.complete());
    const double least = least_effort(old_undoer, goal, a.complete());
    CHECK(plan.price.at_least <= least + 1e-6);
    CHECK(plan.price.at_most >= least - 1e-6);
    if (plan.price.proven()) {
      ++proven;
      CHECK(plan.price.at_most == doctest::Approx(least));
    }
    if (!plan.undo.empty()) ++teardown;
    planner::Changer by_moves(a.frame, a.list, b.frame, b.list, m);
    if (by_moves.plan(a.complete()).undo.size() < plan.undo.size()) ++dearer;
  }
  CHECK(tried == 150);
  CHECK(proven == 150);
  CHECK(teardown >= 75);
  CHECK(dearer >= 5);  // easier work is not always fewer moves
}
