#include "planner/fit_program.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "planner/fit_components.hpp"
#include "planner/fit_solver.hpp"

namespace dryfit::planner {

namespace {

constexpr double kSlack = 1e-6;        ///< the solver's own tolerance, mm

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// Columns of one solve.
struct Layout {
  MixedProgram program;
  std::vector<int> quarters;                      ///< per group
  struct Level {
    int column;
    int group;
    int depth;      ///< 1: the first quarter of every member, 2: the second, ...
    bool beyond;    ///< past one turn
  };
  std::vector<Level> levels;
  std::vector<int> shift;                         ///< per shift
  std::vector<int> open;                          ///< per row, kept ones -1
};

class Solver {
 public:
  Solver(const TurnProgram& program, TurnAnswer& answer) : program_(program), answer_(answer) {}

  void solve(const Component& part) {
    std::vector<bool> given_up(part.rows.size(), false);
    if (settle(part, given_up)) return;
    give_up(part, given_up);
    if (settle(part, given_up)) return;
    // Only a node limit leads here. Nothing is turned then, and every row that is off stays open.
    answer_.proven = false;
    for (std::size_t r = 0; r < part.rows.size(); ++r) {
      const TurnRow& row = program_.rows[at(part.rows[r])];
      answer_.open[at(part.rows[r])] = std::abs(row.gap) > row.tolerance;
    }
  }

 private:
  /// Turns that hold every row not given up: within a turn at each thread, else within the thread's limits.
  bool settle(const Component& part, const std::vector<bool>& given_up) {
    for (const bool wide : {false, true}) {
      Layout layout = lay_out(part, given_up, wide, false);
      const auto first = minimise_and_fix(layout, fewest_cost(part, layout));
      if (!first) continue;
      std::vector<double> values = *first;
      for (const auto& cost : {spread_cost(layout), rank_cost(part, layout)}) {
        if (const auto better = minimise_and_fix(layout, cost)) values = *better;
      }
      record(part, layout, values, given_up);
      return true;
    }
    return false;
  }

  /// Marks the fewest rows without which the rest can hold.
  void give_up(const Component& part, std::vector<bool>& given_up) {
    Layout layout = lay_out(part, given_up, true, true);
    std::vector<double> cost(layout.program.columns.size(), 0.0);
    for (const int column : layout.open) {
      if (column >= 0) cost[at(column)] = 1.0;
    }
    const auto values = minimise_and_fix(layout, cost);
    for (std::size_t r = 0; r < part.rows.size(); ++r) {
      const TurnRow& row = program_.rows[at(part.rows[r])];
      if (values) {
        given_up[r] = layout.open[r] >= 0 && (*values)[at(layout.open[r])] > 0.5;
      } else {
        given_up[r] = std::abs(row.gap) > row.tolerance;
      }
    }
  }

  Layout lay_out(const Component& part, const std::vector<bool>& given_up, bool wide, bool may_open) const {
    Layout out;
    MixedProgram& p = out.program;
    for (std::size_t g = 0; g < part.groups.size(); ++g) {
      const Group& group = part.groups[g];
      const int low = wide ? group.limits.low : group.limits.soft_low;
      const int high = wide ? group.limits.high : group.limits.soft_high;
      const int n = group.count();
      const int q = p.add_column(n * low, n * high, true);
      out.quarters.push_back(q);
      MixedProgram::Row sum{0.0, 0.0, {{q, 1.0}}};
      for (int depth = 1; depth <= high; ++depth) {
        const int column = p.add_column(0.0, n, false);
        out.levels.push_back({column, static_cast<int>(g), depth, depth > group.limits.soft_high});
        sum.terms.emplace_back(column, -1.0);
      }
      for (int depth = 1; depth <= -low; ++depth) {
        const int column = p.add_column(0.0, n, false);
        out.levels.push_back({column, static_cast<int>(g), depth, -depth < group.limits.soft_low});
        sum.terms.emplace_back(column, 1.0);
      }
      p.rows.push_back(std::move(sum));
    }
    const double far = farthest_shift(part);
    for (std::size_t s = 0; s < part.shifts.size(); ++s) out.shift.push_back(p.add_column(-far, far, false));
    for (const std::vector<int>& set : part.whole) {
      int reach = 0;
      MixedProgram::Row row{0.0, 0.0, {}};
      for (const int g : set) {
        row.terms.emplace_back(out.quarters[at(g)], 1.0);
        const Group& group = part.groups[at(g)];
        reach += group.count() * std::max(group.limits.high, -group.limits.low);
      }
      row.terms.emplace_back(p.add_column(-reach, reach, true), -static_cast<double>(kQuarters));
      p.rows.push_back(std::move(row));
    }
    out.open.assign(part.rows.size(), -1);
    for (std::size_t r = 0; r < part.rows.size(); ++r) {
      if (given_up[r]) continue;
      const TurnRow& row = program_.rows[at(part.rows[r])];
      MixedProgram::Row kept{-row.gap - row.tolerance, -row.gap + row.tolerance, {}};
      double reach = std::abs(row.gap);
      for (const auto& [g, mm] : part.row_groups[r]) {
        kept.terms.emplace_back(out.quarters[at(g)], mm);
        const Group& group = part.groups[at(g)];
        reach += std::abs(mm) * group.count() * std::max(group.limits.high, -group.limits.low);
      }
      for (const auto& [s, mm] : part.row_shifts[r]) {
        kept.terms.emplace_back(out.shift[at(s)], mm);
        reach += std::abs(mm) * far;
      }
      if (may_open && row.may_open && std::abs(row.gap) > row.tolerance) {
        out.open[r] = p.add_column(0.0, 1.0, true);
        MixedProgram::Row other = kept;
        kept.high = kNoBound;
        kept.terms.emplace_back(out.open[r], reach);
        other.low = -kNoBound;
        other.terms.emplace_back(out.open[r], -reach);
        p.rows.push_back(std::move(other));
      }
      p.rows.push_back(std::move(kept));
    }
    return out;
  }

  /// No closing needs a longer shift than all gaps and all turns of the component together.
  double farthest_shift(const Component& part) const {
    double far = 1.0;
    for (std::size_t r = 0; r < part.rows.size(); ++r) {
      far += std::abs(program_.rows[at(part.rows[r])].gap);
      for (const auto& [g, mm] : part.row_groups[r]) {
        const Group& group = part.groups[at(g)];
        far += std::abs(mm) * group.count() * std::max(group.limits.high, -group.limits.low);
      }
    }
    return far;
  }

  static std::vector<double> fewest_cost(const Component& part, const Layout& layout) {
    double all = 1.0;
    for (const Group& group : part.groups) {
      all += group.count() * std::max(group.limits.high, -group.limits.low);
    }
    std::vector<double> cost(layout.program.columns.size(), 0.0);
    for (const Layout::Level& level : layout.levels) cost[at(level.column)] = level.beyond ? 1.0 + all : 1.0;
    return cost;
  }
  static std::vector<double> spread_cost(const Layout& layout) {
    std::vector<double> cost(layout.program.columns.size(), 0.0);
    for (const Layout::Level& level : layout.levels) cost[at(level.column)] = 2.0 * level.depth - 1.0;
    return cost;
  }
  static std::vector<double> rank_cost(const Component& part, const Layout& layout) {
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

  /// Solves, then holds the program to the cost that was reached (all costs are whole numbers).
  std::optional<std::vector<double>> minimise_and_fix(Layout& layout, const std::vector<double>& cost) {
    const MixedAnswer found = minimise(layout.program, cost, program_.node_limit);
    answer_.nodes += found.nodes;
    if (found.status == MixedAnswer::Status::limit) answer_.proven = false;
    if (found.values.empty()) return std::nullopt;
    MixedProgram::Row held{-kNoBound, 0.5, {}};
    for (std::size_t c = 0; c < cost.size(); ++c) {
      if (cost[c] == 0.0) continue;
      held.high += std::round(cost[c] * found.values[c]);
      held.terms.emplace_back(static_cast<int>(c), cost[c]);
    }
    if (!held.terms.empty()) layout.program.rows.push_back(std::move(held));
    return found.values;
  }

  void record(const Component& part, const Layout& layout, const std::vector<double>& values,
              const std::vector<bool>& given_up) {
    for (std::size_t g = 0; g < part.groups.size(); ++g) {
      const Group& group = part.groups[g];
      const int total = static_cast<int>(std::lround(values[at(layout.quarters[g])]));
      const int n = group.count();
      const int sign = total < 0 ? -1 : 1;
      for (int m = 0; m < n; ++m) {
        const int share = std::abs(total) / n + (m < std::abs(total) % n ? 1 : 0);
        answer_.quarters[at(group.members[at(m)])] = sign * share;
      }
    }
    for (std::size_t s = 0; s < part.shifts.size(); ++s) {
      answer_.shifts[at(part.shifts[s])] = values[at(layout.shift[s])];
    }
    for (std::size_t r = 0; r < part.rows.size(); ++r) answer_.open[at(part.rows[r])] = given_up[r];
  }

  const TurnProgram& program_;
  TurnAnswer& answer_;
};

}  // namespace

TurnAnswer least_turning(const TurnProgram& program) {
  TurnAnswer answer;
  answer.quarters.assign(program.unknowns.size(), 0);
  answer.shifts.assign(at(program.free_unknowns), 0.0);
  answer.open.assign(program.rows.size(), false);
  for (std::size_t r = 0; r < program.rows.size(); ++r) {
    const TurnRow& row = program.rows[r];
    if (row.terms.empty()) answer.open[r] = std::abs(row.gap) > row.tolerance + kSlack;
  }
  Solver solver(program, answer);
  for (const Component& part : components_of(program)) solver.solve(part);
  return answer;
}

}  // namespace dryfit::planner
