#include "planner/base/disjoint_sets.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <vector>

using dryfit::planner::DisjointSets;

TEST_CASE("numbers that were never joined are sets of their own") {
  const DisjointSets sets(3);
  for (int x = 0; x < 3; ++x) CHECK(sets.find(x) == x);
  CHECK_FALSE(sets.together(0, 2));
}

TEST_CASE("a join says which member stands for both sets, and a second one that there was nothing to join") {
  DisjointSets sets(4);
  const auto first = sets.join(0, 1);
  REQUIRE(first);
  CHECK(first->kept != first->gone);
  CHECK(sets.find(0) == first->kept);
  CHECK(sets.find(1) == first->kept);
  CHECK_FALSE(sets.join(1, 0));
  const auto second = sets.join(3, 0);
  REQUIRE(second);
  // One of the two that stood for a set until now stands for both.
  CHECK(std::minmax({second->kept, second->gone}) == std::minmax({3, first->kept}));
  CHECK(sets.find(1) == second->kept);
}

TEST_CASE("random joins give the sets that labels written out again each time give, and short ways to their heads") {
  std::mt19937 random(20);
  constexpr int kNumbers = 200;
  for (int round = 0; round < 20; ++round) {
    DisjointSets sets(kNumbers);
    std::vector<int> label(kNumbers);
    for (int x = 0; x < kNumbers; ++x) label[static_cast<std::size_t>(x)] = x;
    for (int join = 0; join < 150; ++join) {
      const int a = static_cast<int>(random() % kNumbers), b = static_cast<int>(random() % kNumbers);
      const int from = label[static_cast<std::size_t>(a)], to = label[static_cast<std::size_t>(b)];
      CHECK(sets.join(a, b).has_value() == (from != to));
      std::replace(label.begin(), label.end(), from, to);
    }
    for (int a = 0; a < kNumbers; ++a) {
      for (int b = 0; b < a; ++b) {
        const bool one = label[static_cast<std::size_t>(a)] == label[static_cast<std::size_t>(b)];
        if (sets.together(a, b) != one) FAIL_CHECK("wrong for " << a << " and " << b);
      }
    }
  }
}
