// Design changes against exhaustive search. Random small frames; the change swaps one pipe's length or drops a board,
// so that most contacts are kept and some are not. Invented data: only the agreement of two methods is tested.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <queue>
#include <set>

#include "model/geometry/at.hpp"
#include "planner/change/change.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/frames/random_frames.hpp"

using namespace dryfit;
using planner::ContactId;
using tests::Design;

namespace {

/// A state that undo moves reach from complete: some moves, chosen at random.
std::vector<char> random_state(planner::Undoer& undoer, std::mt19937& rng) {
  planner::State state(undoer.list());
  for (auto steps = rng() % 5; steps > 0; --steps) {
    const auto moves = undoer.all_moves(state);
    if (moves.empty()) break;
    state.undo(moves[rng() % moves.size()].contacts);
  }
  return state.all();
}

/// All sets of contacts that undo moves reach in the new frame from complete: those it can be completed from.
std::set<std::vector<char>> completable(planner::Undoer& undoer) {
  std::set<std::vector<char>> known{std::vector<char>(undoer.list().contacts.size(), 1)};
  std::vector<std::vector<char>> open(known.begin(), known.end());
  while (!open.empty() && known.size() < 20000) {
    const std::vector<char> made = std::move(open.back());
    open.pop_back();
    for (const planner::Move& move : undoer.all_moves(planner::State(undoer.list(), made))) {
      std::vector<char> next = made;
      for (const ContactId c : move.contacts) next[at(c)] = 0;
      if (known.insert(next).second) open.push_back(std::move(next));
    }
  }
  return known;
}

/// Fewest undo moves by breadth-first search over every state; -1 when there is no way.
int fewest_by_search(planner::Undoer& old_undoer, const planner::Matching& m, std::size_t new_contacts,
                     const std::set<std::vector<char>>& good, const std::vector<char>& built) {
  const auto is_goal = [&](const std::vector<char>& made) {
    std::vector<char> image(new_contacts, 0);
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (made[c] == 0) continue;
      if (m.kept_as[c] == model::kNone) return false;
      image[at(m.kept_as[c])] = 1;
    }
    return good.contains(image);
  };
  std::map<std::vector<char>, int> depth{{built, 0}};
  std::queue<std::vector<char>> open;
  open.push(built);
  while (!open.empty()) {
    const std::vector<char> made = open.front();
    open.pop();
    const int d = depth[made];
    if (is_goal(made)) return d;
    for (const planner::Move& move : old_undoer.all_moves(planner::State(old_undoer.list(), made))) {
      std::vector<char> next = made;
      for (const ContactId c : move.contacts) next[at(c)] = 0;
      if (depth.emplace(next, d + 1).second) open.push(std::move(next));
    }
  }
  return -1;
}

}  // namespace

TEST_CASE(
    "the undo moves of 300 random changes are the fewest that trying every sequence finds, and replay takes them") {
  int tried = 0, free = 0, teardown = 0;
  for (std::uint32_t seed = 1; tried < 300 && seed < 20000; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const auto designs = tests::random_change(seed, {3, 11}, rng);
    if (!designs) continue;
    const Design &a = designs->first, &b = designs->second;
    planner::Undoer old_undoer(a.frame, a.list), new_undoer(b.frame, b.list);
    const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
    const std::vector<char> built = random_state(old_undoer, rng);
    ++tried;
    planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
    const planner::ChangePlan plan = changer.plan(built);
    REQUIRE(plan.price.proven());
    const int least = fewest_by_search(old_undoer, m, b.list.contacts.size(), completable(new_undoer), built);
    CHECK(static_cast<int>(plan.undo.size()) == least);
    ++(plan.undo.empty() ? free : teardown);
    tests::check_plan(a, b, m, built, plan);
    // Bounds are true at any budget, and what is found caps them.
    for (const long long budget : {1, 2, 3, 5, 8, 13}) {
      CAPTURE(budget);
      planner::Changer fresh(a.frame, a.list, b.frame, b.list, m);
      const planner::ChangePlan hasty = fresh.plan(built, budget);
      CHECK(hasty.price.at_least <= least);
      CHECK(hasty.price.at_most >= least);
      tests::check_plan(a, b, m, built, hasty);
    }
  }
  CHECK(tried == 300);
  // Floors set by hand: both answers must stay common.
  CHECK(free >= 30);
  CHECK(teardown >= 100);
}

TEST_CASE("prices step by step are those that trying every sequence finds, though each learns from the one after it") {
  int tried = 0, points = 0, open = 0;
  for (std::uint32_t seed = 30001; tried < 60 && seed < 50000; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const auto designs = tests::random_change(seed, {4, 11}, rng);
    if (!designs) continue;
    ++tried;
    const Design &a = designs->first, &b = designs->second;
    planner::Undoer old_undoer(a.frame, a.list), new_undoer(b.frame, b.list);
    const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
    const auto good = completable(new_undoer);
    std::vector<std::vector<ContactId>> steps;
    for (const planner::Step& step : planner::find_order(a.frame, a.list).steps) steps.push_back(step.contacts);
    for (const long long budget : {1, 3, 10, 2000}) {
      CAPTURE(budget);
      planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
      static_cast<void>(changer.plan(a.complete(), budget));
      const auto curve = planner::price_by_step(changer, a.list, steps, budget);
      std::vector<char> built(a.list.contacts.size(), 0);
      for (std::size_t k = 0; k < curve.size(); ++k) {
        CAPTURE(k);
        if (k > 0) {
          for (const ContactId c : steps[k - 1]) built[at(c)] = 1;
        }
        const int least = fewest_by_search(old_undoer, m, b.list.contacts.size(), good, built);
        CHECK(curve[k].price.at_least <= least);
        CHECK(curve[k].price.at_most >= least);
        if (budget == 2000) CHECK(curve[k].price.proven());
        ++points;
        if (!curve[k].price.proven()) ++open;
      }
    }
  }
  CHECK(tried == 60);
  CHECK(points >= 1000);
}

TEST_CASE("with one pipe of another length every other part is still taken for itself") {
  int tried = 0, moved = 0;
  for (std::uint32_t seed = 1; tried < 300 && seed < 20000; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const auto designs = tests::random_change(seed, {3, 20}, rng);
    if (!designs) continue;
    ++tried;
    const Design &a = designs->first, &b = designs->second;
    const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
    for (planner::PartId p = 0; p < static_cast<planner::PartId>(a.frame.parts.size()); ++p) {
      const model::Part& part = a.frame.parts[static_cast<std::size_t>(p)];
      const planner::PartId same = b.frame.find(part.id);
      REQUIRE(same != model::kNone);
      const model::Part& other = b.frame.parts[static_cast<std::size_t>(same)];
      if (part.kind == model::PartKind::pipe && part.length != other.length) continue;
      CAPTURE(part.id);
      CHECK(m.new_of_old[static_cast<std::size_t>(p)] == same);
      if (norm(part.centre - other.centre) > 1.0) ++moved;
    }
  }
  CHECK(tried == 300);
  CHECK(moved >= 300);  // a floor set by hand: parts that stand elsewhere must be common
}

TEST_CASE("no change is free in every random frame and state") {
  for (std::uint32_t seed = 1; seed <= 100; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const Design a(test::random_frame(seed, {3, 14}).frame);
    if (!a.buildable()) continue;
    planner::Undoer undoer(a.frame, a.list);
    const planner::Matching m = planner::match_designs(a.frame, a.list, a.frame, a.list);
    planner::Changer changer(a.frame, a.list, a.frame, a.list, m);
    CHECK(changer.plan(random_state(undoer, rng)).verdict == planner::ChangePlan::Verdict::free);
  }
}

TEST_CASE("going from A to C by way of B never undoes less than going there at once") {
  int triples = 0;
  for (std::uint32_t seed = 1; triples < 60 && seed < 20000; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const test::RandomFrame random = test::random_frame(seed, {3, 11});
    std::optional<model::Frame> second = tests::with_other_length(random.text, random.frame, rng);
    std::optional<model::Frame> third = tests::with_other_length(random.text, random.frame, rng);
    if (!second || !third) continue;
    const Design a(random.frame), b(std::move(*second)), c(std::move(*third));
    const auto price = [](const Design& from, const Design& to) -> std::optional<double> {
      const planner::Matching m = planner::match_designs(from.frame, from.list, to.frame, to.list);
      planner::Changer changer(from.frame, from.list, to.frame, to.list, m);
      const auto plan = changer.plan(from.complete());
      if (plan.verdict == planner::ChangePlan::Verdict::locked || !plan.price.proven()) return std::nullopt;
      return plan.price.at_most;
    };
    if (!a.buildable()) continue;
    const auto ab = price(a, b), bc = price(b, c), ac = price(a, c);
    if (!ab || !bc || !ac) continue;
    ++triples;
    CHECK(*ac <= *ab + *bc);
  }
  CHECK(triples == 60);
}
