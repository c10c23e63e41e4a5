#include "planner/fit/fit_layout.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

namespace {

/// A quarter beyond one turn costs as much as this many within, at most: larger weights blur the solver's arithmetic.
constexpr double kDearest = 2000.0;

/// Loose sums with so many rows get a switch for each remainder; with fewer the program is quick as it is.
constexpr int kManyRows = 3;
constexpr std::array<int, kQuarters> kNoRemainders{-1, -1, -1, -1};

double reach_of(const Group& group) { return group.count() * std::max(group.limits.high, -group.limits.low); }

class Builder {
 public:
  Builder(const TurnProgram& program, const Component& part, const std::vector<bool>& given_up, const LayoutWish& wish)
      : program_(program), part_(part), given_up_(given_up), wish_(wish) {}

  Layout build() {
    for (std::size_t g = 0; g < part_.groups.size(); ++g) add_group(static_cast<int>(g));
    const double far = farthest_shift();
    for (std::size_t s = 0; s < part_.shifts.size(); ++s)
      out_.shift.push_back(out_.program.add_column(-far, far, false));
    for (const std::vector<int>& set : part_.whole) add_whole(set);
    add_sums();
    add_remainders();
    out_.open.assign(part_.rows.size(), -1);
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      if (!given_up_[r]) add_row(r, far);
    }
    return std::move(out_);
  }

 private:
  void add_group(int g) {
    MixedProgram& p = out_.program;
    const Group& group = part_.groups[at(g)];
    const int low = wish_.wide ? group.limits.low : group.limits.soft_low;
    const int high = wish_.wide ? group.limits.high : group.limits.soft_high;
    const int n = group.count();
    const int q = p.add_column(n * low, n * high, true);
    out_.quarters.push_back(q);
    MixedProgram::Row sum{0.0, 0.0, {{q, 1.0}}};
    const auto add_levels = [&](int most, int soft, double sign) {
      for (int depth = 1; depth <= most;) {
        // Merged: up to the soft limit at once, then the rest at once.
        const int last = !wish_.merged ? depth : depth <= soft ? std::min(soft, most) : most;
        const int column = p.add_column(0.0, n * (last - depth + 1), false);
        out_.levels.push_back({column, g, depth, depth > soft, sign > 0.0});
        sum.terms.emplace_back(column, sign);
        depth = last + 1;
      }
    };
    add_levels(high, group.limits.soft_high, -1.0);
    add_levels(-low, -group.limits.soft_low, 1.0);
    p.rows.push_back(std::move(sum));
  }

  void add_whole(const std::vector<int>& set) {
    int reach = 0;
    MixedProgram::Row row{0.0, 0.0, {}};
    for (const int g : set) {
      row.terms.emplace_back(out_.quarters[at(g)], 1.0);
      reach += static_cast<int>(reach_of(part_.groups[at(g)]));
    }
    row.terms.emplace_back(out_.program.add_column(-reach, reach, true), -static_cast<double>(kQuarters));
    out_.program.rows.push_back(std::move(row));
  }

  /// A column for the sum of every row that is the base of another, or has one.
  void add_sums() {
    sum_.assign(part_.rows.size(), -1);
    std::vector<bool> wanted(part_.rows.size(), false);
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      if (part_.base[r] < 0) continue;
      wanted[r] = true;
      wanted[at(part_.base[r])] = true;
    }
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      if (!wanted[r]) continue;
      sum_[r] = out_.program.add_column(-kNoBound, kNoBound, false);
      MixedProgram::Row row{0.0, 0.0, {{sum_[r], -1.0}}};
      if (part_.base[r] >= 0) row.terms.emplace_back(sum_[at(part_.base[r])], 1.0);
      for (const auto& [g, mm] : part_.added[r]) row.terms.emplace_back(out_.quarters[at(g)], mm);
      out_.program.rows.push_back(std::move(row));
    }
  }

  /// A switch for each remainder that a loose sum may leave when divided by whole turns; one of them is on. A row of
  /// whole turns and that sum then has a window for each: without them the program's fractions say next to nothing of
  /// rows that cannot all hold because whole turns alone tell them apart.
  void add_remainders() {
    MixedProgram& p = out_.program;
    std::vector<int> rows_of(part_.loose.size(), 0);
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      if (part_.mixed[r].loose >= 0 && !given_up_[r]) ++rows_of[at(part_.mixed[r].loose)];
    }
    remainder_.assign(part_.loose.size(), kNoRemainders);
    for (std::size_t s = 0; s < part_.loose.size(); ++s) {
      if (rows_of[s] < kManyRows) continue;
      MixedProgram::Row sum{0.0, 0.0, {}};
      MixedProgram::Row one{1.0, 1.0, {}};
      double reach = kQuarters;
      for (const auto& [g, sense] : part_.loose[s].terms) {
        sum.terms.emplace_back(out_.quarters[at(g)], static_cast<double>(sense));
        reach += reach_of(part_.groups[at(g)]);
      }
      const double turns = std::ceil(reach / kQuarters);
      sum.terms.emplace_back(p.add_column(-turns, turns, true), -static_cast<double>(kQuarters));
      for (int k = 0; k < kQuarters; ++k) {
        remainder_[s][at(k)] = p.add_column(0.0, 1.0, true);
        one.terms.emplace_back(remainder_[s][at(k)], 1.0);
        if (k > 0) sum.terms.emplace_back(remainder_[s][at(k)], -static_cast<double>(k));
      }
      p.rows.push_back(std::move(sum));
      p.rows.push_back(std::move(one));
    }
  }

  /// The least, or the most, that the row may come to for each remainder of its loose sum, as terms on the switches.
  void add_windows(std::size_t r, const MixedProgram::Row& plain, bool low, MixedProgram::Row& row) const {
    const MixedRow& mixed = part_.mixed[r];
    const auto quarters = static_cast<int>(std::lround((low ? plain.low : plain.high) / mixed.pitch));
    for (int k = 0; k < kQuarters; ++k) {
      const int wanted = mixed.sense > 0 ? k : -k;
      const int beside = ((wanted - quarters) % kQuarters + kQuarters) % kQuarters;  // farther in, up to a turn
      const int end = low ? quarters + beside : quarters - (beside == 0 ? 0 : kQuarters - beside);
      row.terms.emplace_back(remainder_[at(mixed.loose)][at(k)], -end * mixed.pitch);
    }
    (low ? row.low : row.high) = 0.0;
    (low ? row.high : row.low) = low ? kNoBound : -kNoBound;
  }

  void add_row(std::size_t r, double far) {
    MixedProgram& p = out_.program;
    const int loose = part_.mixed[r].loose;
    const bool parted = loose >= 0 && remainder_[at(loose)] != kNoRemainders;
    const TurnRow& row = program_.rows[at(part_.rows[r])];
    const Window& window = part_.windows[r];
    MixedProgram::Row kept{window.low, window.high, {}};
    double reach = std::abs(row.gap);
    for (const auto& [g, mm] : part_.row_groups[r]) {
      if (sum_[r] < 0) kept.terms.emplace_back(out_.quarters[at(g)], mm);
      reach += std::abs(mm) * reach_of(part_.groups[at(g)]);
    }
    if (sum_[r] >= 0) kept.terms.emplace_back(sum_[r], 1.0);
    for (const auto& [s, mm] : part_.row_shifts[r]) {
      kept.terms.emplace_back(out_.shift[at(s)], mm);
      reach += std::abs(mm) * far;
    }
    const bool may_open = row.may_open && is_off(row) && wish_.give_up != GiveUp::nothing;
    if (parted && !may_open) {
      const MixedProgram::Row plain = kept;
      if (!row.above_only) {
        p.rows.push_back(plain);
        add_windows(r, plain, true, p.rows.back());
      }
      add_windows(r, plain, false, kept);
    }
    if (may_open) {
      const bool counted = wish_.give_up == GiveUp::counted;
      const double weight = counted ? reach : 1.0;
      out_.open[r] = p.add_column(0.0, counted ? 1.0 : kNoBound, counted);
      MixedProgram::Row other = kept;
      if (!row.above_only) {
        kept.high = kNoBound;
        if (parted) add_windows(r, other, true, kept);
        kept.terms.emplace_back(out_.open[r], weight);
        p.rows.push_back(std::move(kept));
      }
      if (parted) {
        kept = other;
        add_windows(r, other, false, kept);
      } else {
        kept = std::move(other);
        kept.low = -kNoBound;
      }
      kept.terms.emplace_back(out_.open[r], -weight);
    }
    p.rows.push_back(std::move(kept));
  }

  /// No closing needs a longer shift than all gaps and all turns of the component together.
  double farthest_shift() const {
    double far = 1.0;
    if (part_.shifts.empty()) return far;
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      far += std::abs(program_.rows[at(part_.rows[r])].gap);
      for (const auto& [g, mm] : part_.row_groups[r]) far += std::abs(mm) * reach_of(part_.groups[at(g)]);
    }
    return far;
  }

  const TurnProgram& program_;
  const Component& part_;
  const std::vector<bool>& given_up_;
  const LayoutWish& wish_;
  Layout out_;
  std::vector<std::array<int, kQuarters>> remainder_;  ///< per loose sum: columns of its switches, or kNoRemainders
  std::vector<int> sum_;                               ///< per row: column of its sum over groups, or -1
};

}  // namespace

Layout lay_out(const TurnProgram& program, const Component& part, const std::vector<bool>& given_up,
               const LayoutWish& wish) {
  return Builder(program, part, given_up, wish).build();
}

std::vector<double> fewest_cost(const Component& part, const Layout& layout) {
  double all = 1.0;
  for (const Group& group : part.groups) all += reach_of(group);
  std::vector<double> cost(layout.program.columns.size(), 0.0);
  for (const Layout::Level& level : layout.levels) {
    cost[at(level.column)] = level.beyond ? 1.0 + std::min(all, kDearest) : 1.0;
  }
  return cost;
}

std::vector<double> back_cost(const Layout& layout) {
  std::vector<double> cost(layout.program.columns.size(), 0.0);
  for (const Layout::Level& level : layout.levels) cost[at(level.column)] = level.back ? 1.0 : 0.0;
  return cost;
}

std::vector<double> spread_cost(const Layout& layout) {
  std::vector<double> cost(layout.program.columns.size(), 0.0);
  for (const Layout::Level& level : layout.levels) cost[at(level.column)] = 2.0 * level.depth - 1.0;
  return cost;
}

std::vector<double> rank_cost(const Component& part, const Layout& layout) {
  std::vector<int> ranks;
  for (const Group& group : part.groups) ranks.push_back(group.limits.rank);
  std::sort(ranks.begin(), ranks.end());
  ranks.erase(std::unique(ranks.begin(), ranks.end()), ranks.end());
  std::vector<double> cost(layout.program.columns.size(), 0.0);
  for (const Layout::Level& level : layout.levels) {
    const int rank = part.groups[at(level.group)].limits.rank;
    cost[at(level.column)] = static_cast<double>(std::lower_bound(ranks.begin(), ranks.end(), rank) - ranks.begin());
  }
  return cost;
}

}  // namespace dryfit::planner
