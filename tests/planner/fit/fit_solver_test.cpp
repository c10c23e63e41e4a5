/// The door to the solver of integer programs against trying every choice of whole numbers.
#include "planner/fit/fit_solver.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

using namespace dryfit;

namespace {

constexpr int kColumns = 6, kMost = 3, kRows = 4;

/// The least cost of values 0 to kMost that fulfil all rows; infinite without any.
double least_of_all(const planner::MixedProgram& program, const std::vector<double>& cost) {
  double best = std::numeric_limits<double>::infinity();
  std::vector<int> value(kColumns, 0);
  for (bool more = true; more;) {
    double sum = 0.0;
    for (std::size_t c = 0; c < kColumns; ++c) sum += cost[c] * value[c];
    const bool fulfils = std::all_of(program.rows.begin(), program.rows.end(), [&](const auto& row) {
      double left = 0.0;
      for (const auto& [column, by] : row.terms) left += by * value[static_cast<std::size_t>(column)];
      return left >= row.low - 1e-9 && left <= row.high + 1e-9;
    });
    if (fulfils) best = std::min(best, sum);
    std::size_t c = 0;
    while (c < kColumns && ++value[c] > kMost) value[c++] = 0;
    more = c < kColumns;
  }
  return best;
}

}  // namespace

TEST_CASE("the solver finds the least cost that trying every choice finds, of whole and of broken costs") {
  std::mt19937 rng(17);
  int solved = 0;
  for (int round = 0; round < 80; ++round) {
    CAPTURE(round);
    const bool whole = round % 2 == 0;
    planner::MixedProgram program;
    std::vector<double> cost;
    for (int c = 0; c < kColumns; ++c) {
      program.add_column(0, kMost, true);
      cost.push_back(whole ? 1.0 + static_cast<double>(rng() % 9) : 0.3 + 0.01 * static_cast<double>(rng() % 40));
    }
    for (int r = 0; r < kRows; ++r) {
      planner::MixedProgram::Row row{static_cast<double>(5 + rng() % 9), 1e9, {}};
      for (int c = 0; c < kColumns; ++c) {
        if (rng() % 3 != 0) row.terms.emplace_back(c, 1.0 + static_cast<double>(rng() % 5));
      }
      program.rows.push_back(row);
    }
    planner::MixedWish wish;
    wish.whole_cost = whole;
    const planner::MixedAnswer answer = planner::minimise(program, cost, wish);
    const double least = least_of_all(program, cost);
    if (std::isinf(least)) {
      CHECK(answer.status == planner::MixedAnswer::Status::infeasible);
      continue;
    }
    ++solved;
    REQUIRE(answer.status == planner::MixedAnswer::Status::optimal);
    double sum = 0.0;
    for (std::size_t c = 0; c < kColumns; ++c) sum += cost[c] * answer.values[c];
    CHECK(sum == doctest::Approx(least));
  }
  CHECK(solved >= 60);
}
