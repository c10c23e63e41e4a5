/// The way on from random half-built states of random small frames, against every state that can be reached.
#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <map>
#include <random>

#include "model/geometry/at.hpp"
#include "planner/judge/replay.hpp"
#include "planner/now/meanwhile.hpp"
#include "planner/now/way_on.hpp"
#include "planner/order/steps.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/every/every_state.hpp"
#include "tests/support/frames/random_frames.hpp"

using namespace dryfit;
using planner::ContactId;
using tests::Example;
using tests::Made;

namespace {

bool none_of(const Made& made, const std::vector<ContactId>& contacts) {
  return std::none_of(contacts.begin(), contacts.end(), [&](ContactId c) { return made[at(c)] != 0; });
}

/// Any set of contacts that comes apart can have been built, by legal moves in the other direction; whether the frame
/// can be completed from it is another matter.
Made random_state(Example& e, std::mt19937& rng) {
  for (;;) {
    Made made(e.list.contacts.size(), 0);
    const auto of_eight = 3 + rng() % 5;
    for (char& contact : made) contact = static_cast<char>(rng() % 8 < of_eight ? 1 : 0);
    if (!planner::cannot_stand(e.undoer, made)) return made;
  }
}

/// What the judge says of the whole way, one move after the other.
void check_way(const Example& e, Made made, const std::vector<planner::Move>& undo,
               const std::vector<planner::Step>& then) {
  planner::MoveJudge judge(e.frame, e.list);
  std::string why;
  for (const planner::Move& move : undo) {
    CHECK_MESSAGE(judge.can_undo(made, {planner::action_of(e.frame, move), move.contacts, {}}, &why), why);
    for (const ContactId c : move.contacts) {
      CHECK(made[at(c)] == 1);
      made[at(c)] = 0;
    }
  }
  int number = 0;
  for (const planner::Step& step : then) {
    CHECK(step.number == ++number);
    for (const ContactId c : step.contacts) {
      CHECK(made[at(c)] == 0);
      made[at(c)] = 1;
    }
    CHECK_MESSAGE(judge.can_undo(made, {step.action, step.contacts, step.moving}, &why), why);
  }
  CHECK(std::all_of(made.begin(), made.end(), [](char c) { return c == 1; }));
}

/// Least effort of all ways from the finished frame down to `kept`, over every state between.
double least_effort(Example& e, const Made& kept) {
  planner::UndoCost cost(e.undoer, 2);
  std::map<Made, double, std::greater<>> open{{Made(kept.size(), 1), 0.0}};  // moves only take contacts away
  while (!open.empty()) {
    const auto [made, paid] = *open.begin();
    open.erase(open.begin());
    if (made == kept) return paid;
    for (const planner::CostedMove& move : cost.moves(planner::State(e.list, made), &kept)) {
      Made next = made;
      for (const ContactId c : move.move.contacts) next[at(c)] = 0;
      const auto [known, fresh] = open.emplace(next, paid + move.cost);
      if (!fresh) known->second = std::min(known->second, paid + move.cost);
    }
  }
  return std::numeric_limits<double>::infinity();
}

struct Counts {
  int frames = 0, teardowns = 0, proven = 0, rests_proven = 0, left_proven = 0;
};

/// Fewest moves from `built` to a state that the frame can be completed from and that has none of `gone`.
int fewest(Example& e, const tests::EveryState& all, const Made& built, const std::vector<ContactId>& gone) {
  int least = std::numeric_limits<int>::max();
  const tests::EveryState down(e.rules, built);
  for (const auto& [made, reached] : down.states()) {
    if (none_of(made, gone) && all.states().contains(made)) least = std::min(least, reached.distance);
  }
  return least;
}

void check_bounds(const planner::Bounded& bounds, double truth) {
  CHECK(bounds.at_least <= truth + 1e-6);
  CHECK(bounds.at_most >= truth - 1e-6);
}

void check_way_on(Example& e, const tests::EveryState& all, const Made& built, const std::vector<ContactId>& renewed,
                  Counts& counts) {
  const planner::WayOn way = planner::way_on(e.frame, e.list, built, renewed);
  REQUIRE(!way.locked);
  check_way(e, built, way.undo, way.then);
  CHECK(static_cast<int>(way.undo.size()) == static_cast<int>(way.undo_moves.at_most));
  check_bounds(way.undo_moves, fewest(e, all, built, renewed));
  Made kept(built.size(), 0);
  for (const ContactId c : way.kept) kept[at(c)] = 1;
  CHECK(none_of(kept, renewed));
  CHECK(tests::contains(built, kept));
  check_bounds(way.effort, least_effort(e, kept));
  counts.teardowns += way.undo.empty() ? 0 : 1;
  counts.proven += way.undo_moves.proven() ? 1 : 0;
  counts.rests_proven += way.effort.at_most - way.effort.at_least < 1e-6 ? 1 : 0;
}

void check_meanwhile(Example& e, const tests::EveryState& all, const Made& built, const std::vector<ContactId>& missing,
                     Counts& counts) {
  const planner::Meanwhile plan = planner::meanwhile(e.frame, e.list, built, missing);
  int least = std::numeric_limits<int>::max();
  for (const auto& [made, reached] : all.states()) {
    if (none_of(made, missing) && tests::contains(made, built)) least = std::min(least, reached.distance);
  }
  REQUIRE(plan.possible == all.states().contains(built));
  if (!plan.possible) return;
  std::vector<planner::Step> steps = plan.now;
  steps.insert(steps.end(), plan.later.begin(), plan.later.end());
  check_way(e, built, {}, steps);
  check_bounds(plan.left, least);
  Made made = built;
  for (const planner::Step& step : plan.now) {
    for (const ContactId c : step.contacts) made[at(c)] = 1;
  }
  CHECK(none_of(made, missing));
  // Nothing more can be made without what is missing, unless it closes something out.
  for (const auto& [other, reached] : all.states()) {
    CHECK_FALSE((other != made && tests::contains(other, made) && none_of(other, missing)));
  }
  counts.left_proven += plan.left.proven() ? 1 : 0;
}

/// From `first` on, as many frames as are wanted; of each one state, one bad part and one that is missing.
Counts check_frames(std::uint32_t first, int wanted) {
  Counts counts;
  for (std::uint32_t seed = first; counts.frames < wanted && seed < first + 20u * static_cast<unsigned>(wanted);
       ++seed) {
    const test::RandomFrame random = test::random_frame(seed, {3, 12});
    Example e(random.text);
    const tests::EveryState all(e.rules);
    if (!all.buildable()) continue;
    CAPTURE(seed);
    CAPTURE(random.text);
    ++counts.frames;
    std::mt19937 rng(seed);
    const Made built = random_state(e, rng);
    check_way_on(e, all, built, {}, counts);
    const auto parts = planner::named_parts(e.frame, e.list);
    const planner::NamedPart& part = parts[rng() % parts.size()];
    if (none_of(built, part.contacts)) {
      check_meanwhile(e, all, built, part.contacts, counts);
    } else {
      Counts aside;
      check_way_on(e, all, built, part.contacts, aside);
    }
    check_meanwhile(e, all, Made(built.size(), 0), part.contacts, counts);
  }
  CHECK(counts.frames == wanted);
  return counts;
}

}  // namespace

TEST_CASE("from 100 random half-built states the way on is the one that trying every state finds") {
  const Counts counts = check_frames(1, 100);
  // Floors set by hand: states that something has to come off of must stay common, and so must proofs.
  CHECK(counts.teardowns >= 10);
  CHECK(counts.proven >= 98);
  CHECK(counts.rests_proven >= 80);
  CHECK(counts.left_proven >= 90);
}

TEST_SUITE("slow") {
  TEST_CASE("from 1,900 more random half-built states the way on is the one that trying every state finds") {
    const Counts counts = check_frames(100000, 1900);
    CHECK(counts.teardowns >= 200);
    CHECK(counts.proven >= 1880);
  }
}
