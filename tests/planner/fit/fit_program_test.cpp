// The integer program against trying every combination of quarter turns.
#include "planner/fit/fit_program.hpp"
#include "model/geometry/at.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>
#include <tuple>

using namespace dryfit::planner;
using dryfit::at;

namespace {

/// How good an answer is, smaller is better: rows given up, quarters beyond a turn, quarters,
/// those backed out, squares.
using Score = std::tuple<int, int, int, int, int>;

struct Rated {
  Score score;
  std::vector<int> quarters;
};

bool whole(const TurnProgram& p, const std::vector<int>& q) {
  return std::all_of(p.whole.begin(), p.whole.end(), [&](const std::vector<int>& set) {
    int sum = 0;
    for (const int u : set) sum += q[at(u)];
    return sum % kQuarters == 0;
  });
}

double gap_of(const TurnRow& row, const std::vector<int>& q) {
  double gap = row.gap;
  for (const auto& [u, mm] : row.terms) gap += mm * q[at(u)];
  return gap;
}

int beyond(const TurnUnknown& u, int q) { return std::max({0, q - u.soft_high, u.soft_low - q}); }

/// Tries everything. Rows that are off may be given up; those that are not must hold.
Rated best_of_all(const TurnProgram& p) {
  std::vector<int> q;
  for (const TurnUnknown& u : p.unknowns) q.push_back(u.low);
  std::optional<Rated> best;
  while (true) {
    if (whole(p, q)) {
      int open = 0;
      bool bad = false;
      for (const TurnRow& row : p.rows) {
        if (std::abs(gap_of(row, q)) <= row.tolerance + 1e-9) continue;
        if (!row.may_open) bad = true;
        ++open;
      }
      if (!bad) {
        int over = 0;
        int sum = 0;
        int back = 0;
        int squares = 0;
        for (std::size_t u = 0; u < q.size(); ++u) {
          over += beyond(p.unknowns[u], q[u]);
          sum += std::abs(q[u]);
          back += std::max(0, -q[u]);
          squares += q[u] * q[u];
        }
        const Score score{open, over, sum, back, squares};
        if (!best || score < best->score) best = Rated{score, q};
      }
    }
    std::size_t u = 0;
    for (; u < q.size(); ++u) {
      if (++q[u] <= p.unknowns[u].high) break;
      q[u] = p.unknowns[u].low;
    }
    if (u == q.size()) break;
  }
  return *best;
}

TurnProgram random_program(std::uint32_t seed) {
  std::mt19937 rng(seed);
  const auto below = [&](std::uint32_t n) { return static_cast<int>(rng() % n); };
  TurnProgram p;
  const int n = 2 + below(3);
  for (int i = 0; i < n; ++i) {
    TurnUnknown u;
    if (below(3) != 0) {
      u.low = -4 - below(3);
      u.high = 4 + below(4);
    }
    p.unknowns.push_back(u);
  }
  const int rows = 1 + below(3);
  for (int r = 0; r < rows; ++r) {
    TurnRow row;
    const double pitch[] = {1.814, 2.209, 1.411};
    for (int u = 0; u < n; ++u) {
      if (below(3) == 0) continue;
      row.terms.emplace_back(u, (below(2) == 0 ? 1 : -1) * pitch[below(6) == 0 ? below(3) : 0] / kQuarters);
    }
    if (row.terms.empty()) row.terms.emplace_back(0, 1.814 / kQuarters);
    row.gap = below(3) == 0 ? 0.0 : (below(1600) - 800) / 100.0;
    row.may_open = std::abs(row.gap) > row.tolerance;
    p.rows.push_back(std::move(row));
  }
  if (below(3) == 0) {
    std::vector<int> set;
    for (int u = 0; u < n; ++u) {
      if (below(2) == 0) set.push_back(u);
    }
    if (!set.empty()) p.whole.push_back(set);
  }
  return p;
}

}  // namespace

TEST_CASE("the program finds what trying all quarter turns finds, 500 times") {
  int turned = 0;
  int wrenched = 0;
  int open = 0;
  for (std::uint32_t seed = 1; seed <= 500; ++seed) {
    CAPTURE(seed);
    const TurnProgram p = random_program(seed);
    const Rated best = best_of_all(p);
    const TurnAnswer answer = least_turning(p);
    REQUIRE(answer.proven);
    REQUIRE(whole(p, answer.quarters));
    int given_up = 0;
    int over = 0;
    int sum = 0;
    int back = 0;
    int squares = 0;
    for (std::size_t r = 0; r < p.rows.size(); ++r) {
      if (answer.open[r]) {
        ++given_up;
      } else {
        CHECK(std::abs(gap_of(p.rows[r], answer.quarters)) <= p.rows[r].tolerance + 1e-5);
      }
    }
    for (std::size_t u = 0; u < answer.quarters.size(); ++u) {
      const int q = answer.quarters[u];
      REQUIRE(q >= p.unknowns[u].low);
      REQUIRE(q <= p.unknowns[u].high);
      over += beyond(p.unknowns[u], q);
      sum += std::abs(q);
      back += std::max(0, -q);
      squares += q * q;
    }
    CHECK(given_up == std::get<0>(best.score));
    // Which rows are given up among equals is free, and so may the turns be: compare them where none is.
    if (given_up == 0) {
      CHECK(over == std::get<1>(best.score));
      CHECK(sum == std::get<2>(best.score));
      CHECK(back == std::get<3>(best.score));
      CHECK(squares == std::get<4>(best.score));
    }
    open += given_up > 0 ? 1 : 0;
    wrenched += given_up == 0 && over > 0 ? 1 : 0;
    turned += given_up == 0 && over == 0 && sum > 0 ? 1 : 0;
  }
  // All answers must stay common, or the comparison proves little; floors set by hand.
  CHECK(turned >= 100);
  CHECK(wrenched >= 20);
  CHECK(open >= 100);
}

TEST_CASE("turns between threads that do the same are shared out evenly") {
  TurnProgram p;
  p.unknowns.resize(4);
  p.rows.push_back({{{0, 0.5}, {1, 0.5}, {2, 0.5}, {3, 0.5}}, -4.0, 0.2, true});
  // 4 mm at 0.5 mm a quarter are 8 quarters, 2 for each of four; 7 would leave 0.5, more than 0.2.
  const TurnAnswer answer = least_turning(p);
  CHECK(answer.quarters == std::vector<int>{2, 2, 2, 2});
  CHECK_FALSE(answer.open[0]);
}

TEST_CASE("a row that holds already is never opened to close another") {
  TurnProgram p;
  p.unknowns.resize(2);
  for (TurnUnknown& u : p.unknowns) {
    u.low = -4;
    u.high = 4;
  }
  p.rows.push_back({{{0, 0.5}, {1, 0.5}}, 0.0, 0.2, false});
  p.rows.push_back({{{0, 0.5}}, 2.0, 0.2, true});   // q0 = -4 closes it, and q1 = 4 keeps the first
  p.rows.push_back({{{1, 0.5}}, 0.0, 0.2, false});  // but this one forbids q1
  const TurnAnswer answer = least_turning(p);
  CHECK(answer.open == std::vector<bool>{false, true, false});
  CHECK(answer.quarters == std::vector<int>{0, 0});
}

TEST_CASE("a shift without a thread costs nothing and closes what it can") {
  TurnProgram p;
  p.unknowns.resize(1);
  p.free_unknowns = 1;
  p.rows.push_back({{{1, 1.0}}, 300.0, 0.5, true});
  p.rows.push_back({{{0, 0.5}, {1, 1.0}}, 301.5, 0.5, true});
  const TurnAnswer answer = least_turning(p);
  CHECK(answer.open == std::vector<bool>{false, false});
  // The first row holds from -300.5 to -299.5, the second without a turn from -302 to -301, with a quarter back from
  // -301.5 to -300.5: one quarter, and both hold at -300.5 alone.
  CHECK(answer.quarters[0] == -1);
  CHECK(std::abs(answer.shifts[0] - -300.5) < 1e-4);
}

TEST_CASE("one program gives one answer") {
  for (std::uint32_t seed = 900; seed < 920; ++seed) {
    const TurnProgram p = random_program(seed);
    CHECK(least_turning(p).quarters == least_turning(p).quarters);
  }
}
