/// Numbers of orders that the literature gives, and that trying every order gives on small frames.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <set>
#include <utility>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/early/careless.hpp"
#include "planner/early/count_orders.hpp"
#include "tests/support/every/every_state.hpp"
#include "tests/support/frames/early_frames.hpp"

using namespace dryfit;
using planner::ContactId;
using Sets = std::vector<std::vector<ContactId>>;

namespace {

/// One contact at a time; `allowed` says whether the contact can be the last one made among `made`.
class OneByOne : public planner::UndoRules {
 public:
  using Allowed = std::function<bool(const std::vector<char>& made, int contact)>;
  OneByOne(int contacts, Allowed allowed) : contacts_(contacts), allowed_(std::move(allowed)) {}
  [[nodiscard]] int contacts() const override { return contacts_; }
  [[nodiscard]] Sets moves(const std::vector<char>& made) override {
    Sets sets;
    for (int c = 0; c < contacts_; ++c) {
      if (made[dryfit::at(c)] != 0 && allowed_(made, c)) sets.push_back({c});
    }
    return sets;
  }

 private:
  int contacts_;
  Allowed allowed_;
};

using Links = std::vector<std::pair<int, int>>;  // earlier, later

OneByOne poset(int elements, const Links& links) {
  return {elements, [links](const std::vector<char>& made, int c) {
            return std::none_of(links.begin(), links.end(), [&](const auto& link) {
              return link.first == c && made[dryfit::at(link.second)] != 0;
            });
          }};
}

/// Product of chains of the given lengths.
std::pair<int, Links> chains(const std::vector<int>& lengths) {
  const int n = std::accumulate(lengths.begin(), lengths.end(), 1, std::multiplies<>());
  Links links;
  int step = 1;
  for (const int length : lengths) {
    for (int e = 0; e < n; ++e) {
      if (e / step % length + 1 < length) links.emplace_back(e, e + step);
    }
    step *= length;
  }
  return {n, links};
}

/// Parts join one connected piece; `edges` between parts.
OneByOne growing(int parts, const Links& edges) {
  return {parts, [parts, edges](const std::vector<char>& made, int removed) {
            std::vector<char> left = made;
            left[dryfit::at(removed)] = 0;
            const auto first = std::find(left.begin(), left.end(), 1);
            if (first == left.end()) return true;
            std::vector<int> open{static_cast<int>(first - left.begin())};
            *first = 0;
            while (!open.empty()) {
              const int at = open.back();
              open.pop_back();
              for (const auto& [a, b] : edges) {
                const int next = a == at ? b : b == at ? a : parts;
                if (next < parts && left[dryfit::at(next)] != 0) {
                  left[dryfit::at(next)] = 0;
                  open.push_back(next);
                }
              }
            }
            return std::none_of(left.begin(), left.end(), [](char c) { return c != 0; });
          }};
}

std::uint64_t count(planner::UndoRules& rules) {
  planner::CountLimits limits;
  limits.states = 200000;
  const planner::OrderCount found = planner::count_orders(rules, limits);
  REQUIRE(found.counted);
  REQUIRE(found.exact.has_value());
  return *found.exact;
}

std::uint64_t count(const std::pair<int, Links>& elements_and_links) {
  OneByOne rules = poset(elements_and_links.first, elements_and_links.second);
  return count(rules);
}

std::uint64_t grown(int parts, const Links& edges) {
  OneByOne rules = growing(parts, edges);
  return count(rules);
}

/// Parts cap, stick, receptacle, handle, numbered 0 to 3; a move parts one piece into two.
class Product : public planner::UndoRules {
 public:
  [[nodiscard]] int contacts() const override { return 5; }
  [[nodiscard]] Sets moves(const std::vector<char>& made) override {
    std::set<std::vector<ContactId>> sets;
    for (unsigned side = 1; side < 15; ++side) {  // one side of a cut through the whole, as a set of parts
      std::vector<ContactId> cut;
      for (int c = 0; c < 5; ++c) {
        const auto& [a, b] = kBetween[dryfit::at(c)];
        if (made[dryfit::at(c)] != 0 && ((side >> a & 1U) != (side >> b & 1U))) cut.push_back(c);
      }
      // A legal cut parts one piece into two pieces.
      std::vector<char> after = made;
      for (const ContactId c : cut) after[dryfit::at(c)] = 0;
      if (cut.empty() || pieces(after) != pieces(made) + 1) continue;
      const bool whole = pieces(made) == 1;
      const bool stick_or_receptacle = side == 2 || side == 13 || side == 4 || side == 11;
      if (!whole || !stick_or_receptacle) sets.insert(cut);
    }
    return {sets.begin(), sets.end()};
  }

 private:
  static constexpr std::pair<unsigned, unsigned> kBetween[] = {{0, 1}, {0, 2}, {1, 2}, {1, 3}, {2, 3}};
  static int pieces(const std::vector<char>& made) {
    std::vector<int> piece{0, 1, 2, 3};
    for (std::size_t c = 0; c < 5; ++c) {
      if (made[c] == 0) continue;
      const int from = piece[kBetween[c].first], to = piece[kBetween[c].second];
      std::replace(piece.begin(), piece.end(), from, to);
    }
    return static_cast<int>(std::set<int>(piece.begin(), piece.end()).size());
  }
};

}  // namespace

TEST_CASE("ladders, grids, fences and trees have as many orders as the integer sequences say") {
  // On-Line Encyclopedia of Integer Sequences, by number.
  SUBCASE("2 x n ladder: Catalan numbers, A000108") {
    const std::uint64_t catalan[] = {1, 2, 5, 14, 42, 132, 429};
    for (int n = 1; n <= 7; ++n) CHECK(count(chains({2, n})) == catalan[n - 1]);
  }
  SUBCASE("3 x n: three-dimensional Catalan numbers, A005789") {
    const std::uint64_t numbers[] = {1, 5, 42, 462, 6006};
    for (int n = 1; n <= 5; ++n) CHECK(count(chains({3, n})) == numbers[n - 1]);
  }
  SUBCASE("2 x 2 x n: A114714") {
    const std::uint64_t numbers[] = {2, 48, 2452, 183958};
    for (int n = 1; n <= 4; ++n) CHECK(count(chains({2, 2, n})) == numbers[n - 1]);
  }
  SUBCASE("lattice of subsets: A046873, from memory; agrees with brute force") {
    CHECK(count(chains({2, 2})) == 2);
    CHECK(count(chains({2, 2, 2})) == 48);
    CHECK(count(chains({2, 2, 2, 2})) == 1680384);
  }
  SUBCASE("fence: A000111") {
    const std::uint64_t numbers[] = {1, 1, 2, 5, 16, 61, 272, 1385, 7936};
    for (int n = 1; n <= 9; ++n) {
      Links links;
      for (int e = 0; e + 1 < n; ++e) links.push_back(e % 2 == 0 ? std::pair(e, e + 1) : std::pair(e + 1, e));
      CHECK(count({n, links}) == numbers[n - 1]);
    }
  }
  SUBCASE("complete binary tree, parent first: A056972, from memory; agrees with the formula n! / product of sizes") {
    const std::pair<int, std::uint64_t> trees[] = {{3, 2}, {7, 80}, {15, 21964800}};
    for (const auto& [n, orders] : trees) {
      Links links;
      for (int e = 1; e < n; ++e) links.emplace_back((e - 1) / 2, e);
      CHECK(count({n, links}) == orders);
    }
  }
  SUBCASE("nothing before anything: n!") { CHECK(count({8, {}}) == 40320); }  // 8!
}

TEST_CASE("a growing connected piece has as many orders as the closed forms say") {
  const auto path = [](int n) {
    Links edges;
    for (int e = 0; e + 1 < n; ++e) edges.emplace_back(e, e + 1);
    return edges;
  };
  // A path that begins at its part i has C(n-1, i) orders, over all i 2^(n-1).
  for (int n = 1; n <= 8; ++n) CHECK(grown(n, path(n)) == std::uint64_t{1} << static_cast<unsigned>(n - 1));
  std::uint64_t factorial = 1;
  for (int leaves = 1; leaves <= 6; ++leaves) {
    factorial *= static_cast<std::uint64_t>(leaves);
    Links star;
    for (int e = 1; e <= leaves; ++e) star.emplace_back(0, e);
    // The middle comes first or second, the leaves in any order.
    CHECK(grown(leaves + 1, star) == 2 * factorial);
  }
  // A ring begins anywhere, grows at either end n - 2 times, and the last part closes it: n 2^(n-2).
  for (int n = 3; n <= 8; ++n) {
    Links cycle = path(n);
    cycle.emplace_back(n - 1, 0);
    CHECK(grown(n, cycle) == static_cast<std::uint64_t>(n) << static_cast<unsigned>(n - 2));
  }
}

TEST_CASE("what cannot come apart has no order, whether its states are counted or its orders are drawn") {
  // 0 and 1 wait for each other; 2 comes off first or never.
  OneByOne stuck = poset(3, {{0, 1}, {1, 0}});
  for (const long long states : {100LL, 1LL}) {
    CAPTURE(states);
    planner::CountLimits limits;
    limits.states = states;
    const planner::OrderCount found = planner::count_orders(stuck, limits);
    CHECK(found.counted == (states > 1));
    CHECK(found.none);
  }
}

TEST_CASE("the ball-point pen of the assembly-planning literature has 12 sequences of its 5 liaisons") {
  // Bourjault 1984; De Fazio and Whitney, Simplified generation of all mechanical assembly sequences, 1987. Rules 3
  // before 4 and 1 before 5 as printed by Ullman, The Mechanical Design Process, 4th edition, section 11.5. The rule
  // that 4 comes before 1 or 2, and the number 12, are from memory.
  OneByOne pen(5, [](const std::vector<char>& made, int c) {
    const auto is = [&](int liaison) { return made[dryfit::at(liaison - 1)] != 0; };
    switch (c + 1) {
      case 1: return !is(5);
      case 3: return !is(4);
      case 4: return !(is(1) && is(2));
      default: return true;
    }
  });
  CHECK(count(pen) == 12);
}

TEST_CASE("the four-part product of the assembly-planning literature has 10 sequences of joins") {
  // Homem de Mello and Sanderson, AND/OR graph representation of assembly plans, 1990; rules and number from memory:
  // cap, stick, receptacle, handle; no contact of cap and handle; neither the stick nor the receptacle alone can be
  // joined last to the other three.
  Product product;
  CHECK(count(product) == 10);
}

TEST_CASE("random orders estimate the number of orders without bias and say how far off they may be") {
  const auto [n, links] = chains({3, 5});  // 6006 orders, A005789
  OneByOne rules = poset(n, links);
  planner::CountLimits limits;
  limits.states = 10;
  limits.samples = 2000;
  limits.moves_asked = 10000000;
  for (std::uint32_t seed = 1; seed <= 5; ++seed) {
    limits.seed = seed;
    const planner::OrderCount found = planner::count_orders(rules, limits);
    CHECK_FALSE(found.counted);
    CHECK(found.samples == 2000);
    CHECK(found.relative_error > 0.0);
    CHECK(found.relative_error < 0.1);  // set by hand: more would be of no use
    // Four standard errors are passed once in 16,000 times.
    CHECK(std::abs(std::pow(10.0, found.log10_orders) / 6006.0 - 1.0) < 4.0 * found.relative_error);
    CHECK(planner::count_orders(rules, limits).log10_orders == found.log10_orders);
  }
}

TEST_CASE("frames have as many orders as adding up over every state gives, locked ones none") {
  for (const std::string& text : {tests::trestle_text(), tests::square_text(true), tests::stack_text()}) {
    const model::Frame frame = model::read_frame(text, "example.yaml");
    const planner::ContactList list = planner::contacts_of(frame);
    planner::Undoer undoer(frame, list);
    planner::FrameRules rules(undoer);
    const tests::EveryState all(rules);
    CHECK(static_cast<double>(count(rules)) == all.orders());
  }
  const model::Frame frame = model::read_frame(tests::square_text(false), "example.yaml");
  const planner::ContactList list = planner::contacts_of(frame);
  planner::Undoer undoer(frame, list);
  planner::FrameRules rules(undoer);
  CHECK(planner::count_orders(rules).none);
}

TEST_CASE("careless builders only make legal steps, and get stuck exactly when the frame cannot be finished any more") {
  for (const std::string& text : {tests::trestle_text(), tests::square_text(true), tests::free_rack_text(1)}) {
    const model::Frame frame = model::read_frame(text, "example.yaml");
    const planner::ContactList list = planner::contacts_of(frame);
    planner::Undoer undoer(frame, list);
    planner::FrameRules rules(undoer);
    const tests::EveryState all(rules);
    planner::CarelessLimits limits;
    limits.builders = 40;
    const auto builds = planner::careless_builds(undoer, limits);
    REQUIRE(builds.size() == 40);
    int stuck = 0;
    for (const planner::CarelessBuild& build : builds) {
      if (!build.stuck) continue;
      ++stuck;
      CHECK(build.fatal_step >= 1);
      CHECK(build.fatal_step <= build.steps);
      CHECK(build.locked_out != model::kNone);
      if (build.priced) CHECK(build.price >= build.price_at_least);
      if (build.priced) CHECK(build.price >= 1);
    }
    INFO(frame.name);
    CHECK(stuck > 0);   // every one of these has a trap
    CHECK(stuck < 40);  // and none is hopeless
    const auto again = planner::careless_builds(undoer, limits);
    REQUIRE(again.size() == builds.size());
    for (std::size_t i = 0; i < builds.size(); ++i) CHECK(again[i].fatal_step == builds[i].fatal_step);
  }
}

TEST_CASE("what a careless builder can make next is what undoing allows, set by set") {
  const model::Frame frame = model::read_frame(tests::trestle_text(), "example.yaml");
  const planner::ContactList list = planner::contacts_of(frame);
  planner::Undoer undoer(frame, list);
  planner::FrameRules rules(undoer);
  const tests::EveryState all(rules);
  const auto n = static_cast<ContactId>(list.contacts.size());
  int checked = 0;
  for (const auto& [made, reached] : all.states()) {
    if (++checked % 37 != 0) continue;  // a sample, evenly spread
    std::set<std::vector<ContactId>> forward;
    for (ContactId c = 0; c < n; ++c) {
      for (const auto& set : planner::steps_forward(undoer, planner::State(list, made), c)) forward.insert(set);
    }
    for (const auto& set : forward) {
      tests::Made next = made;
      for (const ContactId c : set) next[dryfit::at(c)] = 1;
      const Sets back = rules.moves(next);
      CHECK(std::find(back.begin(), back.end(), set) != back.end());
    }
    // Nothing that leads on to the finished frame is missing.
    for (const auto& [other, from] : all.states()) {
      for (const auto& move : from.moves) {
        tests::Made next = other;
        for (const ContactId c : move) next[dryfit::at(c)] = 0;
        if (next == made) CHECK(forward.contains(move));
      }
    }
  }
}
