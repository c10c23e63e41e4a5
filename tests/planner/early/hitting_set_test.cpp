/// Smallest sets that meet others, against trying every set of elements. Invented sets: only agreement is tested.
#include "planner/early/hitting_set.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <bit>
#include <random>
#include <utility>
#include <vector>

#include "planner/early/hitting_parts.hpp"

using namespace dryfit;

namespace {

constexpr int kElements = 9;

bool meets(unsigned picked, const std::vector<int>& set) {
  return std::any_of(set.begin(), set.end(), [&](int e) { return (picked >> e & 1U) != 0; });
}

int fewest(const std::vector<std::vector<int>>& sets, const std::vector<planner::ImpliedSet>& implied) {
  int best = kElements + 1;
  for (unsigned picked = 0; picked < 1U << kElements; ++picked) {
    const bool all = std::all_of(sets.begin(), sets.end(), [&](const auto& set) { return meets(picked, set); });
    const bool rest = std::all_of(implied.begin(), implied.end(), [&](const planner::ImpliedSet& set) {
      return (picked >> set.once & 1U) == 0 || meets(picked, set.of);
    });
    if (all && rest) best = std::min(best, std::popcount(picked));
  }
  return best;
}

std::vector<int> random_set(std::mt19937& rng) {
  std::vector<int> set;
  for (auto n = 1 + rng() % 4; n > 0; --n) set.push_back(static_cast<int>(rng() % kElements));
  return set;
}

}  // namespace

/// The smallest set is proven, as small as trying all says, and meets what it has to. How many elements it has.
int check_smallest(const std::vector<std::vector<int>>& sets, const std::vector<planner::ImpliedSet>& implied) {
  const int best = fewest(sets, implied);
  const planner::HittingSet found = planner::smallest_hitting_set(sets, implied, 100000);
  REQUIRE(found.proven);
  CHECK(found.at_least == best);
  CHECK(static_cast<int>(found.elements.size()) == best);
  unsigned picked = 0;
  for (const int e : found.elements) picked |= 1U << e;
  for (const auto& set : sets) CHECK(meets(picked, set));
  for (const auto& set : implied) CHECK(((picked >> set.once & 1U) == 0 || meets(picked, set.of)));
  return best;
}

TEST_CASE("what is asked for only once something is picked is met by the smallest sets, and the bound holds early") {
  std::mt19937 rng(7);
  int dearer = 0;
  for (int round = 0; round < 500; ++round) {
    CAPTURE(round);
    std::vector<std::vector<int>> sets;
    std::vector<planner::ImpliedSet> implied;
    for (auto n = 1 + rng() % 5; n > 0; --n) sets.push_back(random_set(rng));
    for (auto n = rng() % 9; n > 0; --n) implied.push_back({static_cast<int>(rng() % kElements), random_set(rng)});
    const int best = check_smallest(sets, implied);
    for (const long long nodes : {1, 2, 4, 8})
      CHECK(planner::smallest_hitting_set(sets, implied, nodes).at_least <= best);
    if (best > fewest(sets, {})) ++dearer;
  }
  CHECK(dearer >= 25);  // a floor set by hand: the implied sets must matter often enough
}

TEST_CASE("many sets are met by the fewest elements too, whatever parts they fall into") {
  std::mt19937 rng(11);
  int in_doubt = 0;
  for (int round = 0; round < 300; ++round) {
    CAPTURE(round);
    std::vector<std::vector<int>> sets;
    std::vector<planner::ImpliedSet> implied;
    for (auto n = 12 + rng() % 30; n > 0; --n) sets.push_back(random_set(rng));
    for (auto& set : sets) {  // sets of one say too much
      for (int k = 1; set.size() < 3; k += 2) set.push_back((set.front() + k) % kElements);
    }
    for (auto n = rng() % 9; n > 0; --n) implied.push_back({static_cast<int>(rng() % kElements), random_set(rng)});
    const int best = check_smallest(sets, implied);
    for (const long long nodes : {1, 2, 4, 8, 16, 32}) {
      const planner::HittingSet hasty = planner::smallest_hitting_set(sets, implied, nodes);
      CHECK(hasty.at_least <= best);
      CHECK(static_cast<int>(hasty.elements.size()) >= best);
      if (!hasty.proven) ++in_doubt;
    }
  }
  CHECK(in_doubt >= 100);  // a floor set by hand: small budgets must leave some open
}

// Of a triangle two corners are needed, and sets that share nothing tell of one only: one for each triangle has to be
// found out by trying. Twelve of them apart from each other take 12 times as long as one, not 3^12 times; and where
// one long set holds them together they fall apart once it is met.
TEST_CASE("twelve triangles take 24 elements, and a thousand nodes are enough to prove it") {
  std::vector<std::vector<int>> sets;
  std::vector<int> one_of_each;
  for (int t = 0; t < 12; ++t) {
    for (int k = 0; k < 3; ++k) sets.push_back({3 * t + k, 3 * t + (k + 1) % 3});
    one_of_each.push_back(3 * t);
  }
  for (const bool held_together : {false, true}) {
    if (held_together) sets.push_back(one_of_each);
    const planner::HittingSet found = planner::smallest_hitting_set(sets, 1000);
    CHECK(found.proven);
    CHECK(found.at_least == 24);
  }
}

TEST_CASE(
    "sets that are met whenever another one is are left out, and so are those that who asks for them meets himself") {
  const auto kept = [](std::vector<planner::SetToMeet> sets) {
    std::vector<std::pair<std::vector<int>, int>> told;
    for (const auto& set : planner::without_implied(std::move(sets))) told.emplace_back(set.of, set.once);
    return told;
  };
  using Told = std::vector<std::pair<std::vector<int>, int>>;
  CHECK(kept({{{1, 2, 3}}, {{2, 3}}, {{2, 3}, 5}}) == Told{{{2, 3}, -1}});
  // Who picks 2 has met {2, 4}; who picks 5 has not.
  CHECK(kept({{{2, 4}, 2}, {{2, 4}, 5}}) == Told{{{2, 4}, 5}});
}
