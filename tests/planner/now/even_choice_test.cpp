/// Places along a line, against every choice that there is.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "planner/now/even_choice.hpp"

using dryfit::planner::even_choice;
using dryfit::planner::EvenPlace;

namespace {

double longest(const std::vector<EvenPlace>& places, const std::vector<std::size_t>& chosen, double end) {
  double most = 0.0, before = 0.0;
  for (const std::size_t i : chosen) {
    most = std::max(most, places[i].at - before);
    before = places[i].at;
  }
  return std::max(most, end - before);
}

int cost(const std::vector<EvenPlace>& places, const std::vector<std::size_t>& chosen) {
  int sum = 0;
  for (const std::size_t i : chosen) sum += places[i].cost;
  return sum;
}

/// Every way to take `count` of `n`.
std::vector<std::vector<std::size_t>> all_choices(std::size_t n, std::size_t count) {
  std::vector<std::vector<std::size_t>> all;
  for (unsigned bits = 0; bits < (1u << n); ++bits) {
    std::vector<std::size_t> some;
    for (std::size_t i = 0; i < n; ++i) {
      if ((bits >> i & 1u) != 0) some.push_back(i);
    }
    if (some.size() == count) all.push_back(some);
  }
  return all;
}

}  // namespace

TEST_CASE("one place: the middle, unless one that costs less is near enough") {
  const std::vector<EvenPlace> line{{10, 1}, {40, 1}, {50, 3}, {90, 1}};
  // The middle makes 50 and 50; up to 75 will do, so the cheap one at 40 is taken (60), not the one at 90.
  CHECK(even_choice(line, 100.0, 1) == std::vector<std::size_t>{1});
  CHECK(even_choice({{10, 1}, {50, 3}, {90, 1}}, 100.0, 1) == std::vector<std::size_t>{1});
  CHECK_FALSE(even_choice(line, 100.0, 5).has_value());
  CHECK_FALSE(even_choice({}, 100.0, 1).has_value());
}

TEST_CASE("a choice of places is the best of all choices") {
  std::mt19937 rng(20);
  for (int round = 0; round < 200; ++round) {
    const std::size_t n = 1 + rng() % 10, count = 1 + rng() % 4;
    std::vector<EvenPlace> places;
    double end = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      end += static_cast<double>(1 + rng() % 20);
      places.push_back({end, static_cast<int>(1 + rng() % 3)});
    }
    end += static_cast<double>(1 + rng() % 20);
    const auto found = even_choice(places, end, static_cast<int>(count));
    REQUIRE(found.has_value() == (count <= n));
    if (!found) continue;
    const auto all = all_choices(n, count);
    double shortest = end;
    for (const auto& some : all) shortest = std::min(shortest, longest(places, some, end));
    std::pair<int, double> best{1000, end};
    for (const auto& some : all) {
      const double most = longest(places, some, end);
      if (most <= 1.5 * shortest + 1e-9) best = std::min(best, {cost(places, some), most});
    }
    CHECK(cost(places, *found) == best.first);
    CHECK(longest(places, *found, end) == doctest::Approx(best.second));
  }
}
