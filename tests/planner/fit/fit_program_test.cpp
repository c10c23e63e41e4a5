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

/// Quarters from one value worth trying to the next: an unknown that is a whole set by itself turns by whole turns.
std::vector<int> steps_of(const TurnProgram& p) {
  std::vector<int> steps(p.unknowns.size(), 1);
  for (const std::vector<int>& set : p.whole) {
    if (set.size() == 1) steps[at(set.front())] = kQuarters;
  }
  return steps;
}

/// Tries everything. Rows that are off may be given up; those that are not must hold.
Rated best_of_all(const TurnProgram& p) {
  const std::vector<int> steps = steps_of(p);
  std::vector<int> first;
  for (std::size_t u = 0; u < steps.size(); ++u) first.push_back(p.unknowns[u].low / steps[u] * steps[u]);
  std::vector<int> q = first;
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
      if ((q[u] += steps[u]) <= p.unknowns[u].high) break;
      q[u] = first[u];
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

/// Two posts with four rungs between them. Each post has a foot that turns by quarters, and above it threads between
/// tees that turn by whole turns.
TurnProgram random_ladder(std::uint32_t seed) {
  std::mt19937 rng(seed);
  const auto below = [&](std::uint32_t n) { return static_cast<int>(rng() % n); };
  const double pitch = 1.814 / kQuarters;
  TurnProgram p;
  p.unknowns.resize(8);
  TurnRow row;
  for (int rung = 0; rung < 4; ++rung) {
    for (int post = 0; post < 2; ++post) {
      row.terms.emplace_back(2 * rung + post, post == 0 ? pitch : -pitch);
      if (rung > 0) p.whole.push_back({2 * rung + post});
    }
    // Eighths of an inch, as people mistake them, and what a turn or two make of them.
    row.gap = below(3) == 0 ? 0.0 : (below(9) - 4) * 3.175 / (below(2) == 0 ? 1.0 : 1.75);
    row.may_open = is_off(row);
    p.rows.push_back(row);
  }
  return p;
}

struct Seen {
  int turned = 0;
  int wrenched = 0;
  int open = 0;
};

void check_against_all(const TurnProgram& p, Seen& seen) {
  const Rated best = best_of_all(p);
  const TurnAnswer answer = least_turning(p);
  REQUIRE(answer.proven);
  REQUIRE(answer.decided);
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
  seen.open += given_up > 0 ? 1 : 0;
  seen.wrenched += given_up == 0 && over > 0 ? 1 : 0;
  seen.turned += given_up == 0 && over == 0 && sum > 0 ? 1 : 0;
}

/// Ends the work after so many questions.
class Impatient : public Foreman {
 public:
  explicit Impatient(int questions) : left_(questions) {}
  [[nodiscard]] bool go_on(long long, long long) override { return left_-- > 0; }

 private:
  int left_;
};

bool any_open(const TurnAnswer& answer) {
  return std::find(answer.open.begin(), answer.open.end(), true) != answer.open.end();
}

}  // namespace

TEST_CASE("the program finds what trying all quarter turns finds, 500 times") {
  Seen seen;
  for (std::uint32_t seed = 1; seed <= 500; ++seed) {
    CAPTURE(seed);
    check_against_all(random_program(seed), seen);
  }
  // All answers must stay common, or the comparison proves little; floors set by hand.
  CHECK(seen.turned >= 100);
  CHECK(seen.wrenched >= 20);
  CHECK(seen.open >= 100);
}

TEST_CASE("two posts and four rungs are closed as trying everything closes them, 200 times") {
  Seen seen;
  for (std::uint32_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    check_against_all(random_ladder(seed), seen);
  }
  CHECK(seen.turned >= 10);
  CHECK(seen.open >= 50);
}

TEST_CASE("out of nodes, or ended, is undecided and never a no that is not so") {
  int undecided = 0;
  int no = 0;
  for (std::uint32_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    TurnProgram p = seed % 2 == 0 ? random_ladder(seed) : random_program(seed);
    const bool has_to_open = any_open(least_turning(p));
    for (const int limit : {0, 1, 2, 3, 5, 20}) {
      CAPTURE(limit);
      for (const bool ended : {false, true}) {
        CAPTURE(ended);
        Impatient foreman(limit);
        p.foreman = ended ? &foreman : nullptr;
        p.node_limit = ended ? 20000 : limit;
        const TurnAnswer answer = least_turning(p);
        REQUIRE(whole(p, answer.quarters));
        if (!any_open(answer)) {
          CHECK(answer.decided);
          CHECK_FALSE(has_to_open);
        } else if (answer.decided) {
          CHECK(has_to_open);
          ++no;
        } else {
          CHECK_FALSE(answer.proven);
          ++undecided;
        }
        p.foreman = nullptr;
      }
    }
  }
  CHECK(undecided >= 100);
  CHECK(no >= 100);
}

TEST_CASE("what was solved before is not solved again, and comes out the same") {
  TurnMemory memory;
  for (const int round : {1, 2}) {
    for (std::uint32_t seed = 1; seed <= 60; ++seed) {
      CAPTURE(seed);
      const TurnProgram p = random_ladder(seed);
      const TurnAnswer alone = least_turning(p);
      const TurnAnswer shared = least_turning(p, memory);
      CHECK(shared.quarters == alone.quarters);
      CHECK(shared.open == alone.open);
      CHECK(shared.proven == alone.proven);
      if (round == 2) CHECK(shared.nodes == 0);
    }
  }
}

TEST_CASE("a wall of posts whose rungs are all at odds costs few nodes") {
  // Eight posts of eight tees: each rung is off by eighths of an inch, which whole turns of 1.814 mm mostly cannot
  // close.
  std::mt19937 rng(7);
  constexpr int kPosts = 8, kTees = 8;
  const double pitch = 1.814 / kQuarters;
  TurnProgram p;
  p.unknowns.resize(at(kPosts * kTees));
  for (int post = 0; post < kPosts; ++post) {
    for (int tee = 1; tee < kTees; ++tee) p.whole.push_back({post * kTees + tee});
  }
  for (int post = 0; post + 1 < kPosts; ++post) {
    for (int tee = 0; tee < kTees; ++tee) {
      TurnRow row;
      for (int below = 0; below <= tee; ++below) row.terms.emplace_back(post * kTees + below, pitch);
      for (int below = 0; below <= tee; ++below) row.terms.emplace_back((post + 1) * kTees + below, -pitch);
      row.gap = static_cast<double>(rng() % 3) * 3.175 - 3.175;
      row.may_open = is_off(row);
      p.rows.push_back(std::move(row));
    }
  }
  const TurnAnswer answer = least_turning(p);
  CHECK(any_open(answer));
  CHECK(answer.decided);
  CHECK(answer.nodes < 5000);
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
