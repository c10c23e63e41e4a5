#include "planner/fit/fit_program.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "model/geometry/at.hpp"
#include "planner/fit/fit_components.hpp"
#include "planner/fit/fit_layout.hpp"
#include "planner/fit/turn_memory.hpp"

namespace dryfit::planner {

namespace {

constexpr std::size_t kSmall = 48;        ///< groups up to which a component is solved whole, spread and ranks included
constexpr int kCounted = 12;              ///< rows off up to which the fewest to give up are counted exactly
constexpr int kHops = 4;                  ///< how far the search round a fault grows
constexpr long long kNodesToCount = 300;  ///< to count rows to give up where fractions tell nothing of them

using Values = std::vector<double>;

class Solver {
 public:
  Solver(const TurnProgram& program, const Component& part)
      : program_(program), part_(part), given_up_(part.rows.size(), false), small_(part.groups.size() <= kSmall) {}

  SolvedComponent solve() {
    solved_.quarters.assign(part_.groups.size(), 0);
    solved_.shifts.assign(part_.shifts.size(), 0.0);
    solved_.open.assign(part_.rows.size(), false);
    give_up_hopeless();
    solved_.must_open = std::find(given_up_.begin(), given_up_.end(), true) != given_up_.end();
    if (settle()) return std::move(solved_);
    solved_.must_open = solved_.must_open || refuted_;
    const std::vector<bool> hopeless = given_up_;
    give_up();
    if (given_up_ != hopeless && settle()) return std::move(solved_);
    // No whole turns fit although fractions would, or a node limit was met: nothing is turned, what is off stays open.
    solved_.proven = false;
    for (std::size_t r = 0; r < part_.rows.size(); ++r) solved_.open[r] = off(r);
    return std::move(solved_);
  }

 private:
  const TurnRow& row(std::size_t r) const { return program_.rows[at(part_.rows[r])]; }
  bool off(std::size_t r) const { return is_off(row(r)); }

  /// The turns in a row can take it into its window, each row by itself.
  bool within_reach(std::size_t r, bool wide) const {
    const Window& window = part_.windows[r];
    if (window.empty()) return false;
    if (!part_.row_shifts[r].empty()) return true;
    double least = 0.0;
    double most = 0.0;
    for (const auto& [g, mm] : part_.row_groups[r]) {
      const Group& group = part_.groups[at(g)];
      const double low = mm * group.count() * (wide ? group.limits.low : group.limits.soft_low);
      const double high = mm * group.count() * (wide ? group.limits.high : group.limits.soft_high);
      least += std::min(low, high);
      most += std::max(low, high);
    }
    return least <= window.high + kHair && most >= window.low - kHair;
  }

  /// What no turning of its own threads could close is open whatever the rest does: a gross mistake costs no search.
  void give_up_hopeless() {
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      given_up_[r] = off(r) && row(r).may_open && !within_reach(r, true);
    }
  }

  /// Every row that has to hold can, each by itself.
  bool promising(bool wide) const {
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      if (!given_up_[r] && !within_reach(r, wide)) return false;
    }
    return true;
  }

  /// Turns that hold every row not given up: within a turn at each thread, else within the thread's limits. Where there
  /// are none, `refuted_` says whether that is proven.
  bool settle() {
    bool any = false;
    for (std::size_t r = 0; r < part_.rows.size(); ++r) any = any || (off(r) && !given_up_[r]);
    if (!any) {
      solved_.open = given_up_;
      return true;
    }
    for (const bool wide : {false, true}) {
      refuted_ = true;
      if (promising(wide) && (small_ ? settle_small(wide) : settle_large(wide))) return true;
    }
    return false;
  }

  bool settle_small(bool wide) {
    Layout layout = lay_out(program_, part_, given_up_, {wide, false, GiveUp::nothing});
    auto values = minimise_and_fix(layout, fewest_cost(part_, layout));
    if (!values) return false;
    for (const auto& cost : {back_cost(layout), spread_cost(layout), rank_cost(part_, layout)}) {
      if (auto better = minimise_and_fix(layout, cost)) values = std::move(better);
    }
    record(layout, *values);
    return true;
  }

  /// Most of a large component is exact and far from any fault. The relaxed program says how few quarters could do;
  /// then only groups round the faults may turn, farther and farther out, and all of them at last. Few enough: proven.
  bool settle_large(bool wide) {
    const Layout layout = lay_out(program_, part_, given_up_, {wide, true, GiveUp::nothing});
    const std::vector<double> cost = fewest_cost(part_, layout);
    const MixedAnswer relaxed = minimised(layout, cost, {program_.node_limit, true, false, program_.foreman});
    refuted_ = relaxed.status == MixedAnswer::Status::infeasible;
    if (relaxed.values.empty()) return false;
    const double least = std::ceil(total(cost, relaxed.values) - 1e-4);
    std::vector<bool> active = seeds(layout, relaxed.values);
    const long long until = solved_.nodes + nodes_for(layout);
    for (int hop = 0; hop <= kHops + 1; ++hop) {
      Layout near = layout;
      if (hop > kHops) active.assign(active.size(), true);
      for (std::size_t g = 0; g < active.size(); ++g) {
        if (!active[g]) hold_still(near, static_cast<int>(g));
      }
      const long long left = std::max<long long>(1, until - solved_.nodes);
      const MixedAnswer found = minimised(near, cost, {left, false, true, program_.foreman});
      if (!found.values.empty()) {
        if (total(cost, found.values) > least + 0.5) solved_.proven = false;
        record(layout, found.values);
        return true;
      }
      const bool all = std::find(active.begin(), active.end(), false) == active.end();
      refuted_ = all && found.status == MixedAnswer::Status::infeasible;
      if (refuted_) return false;
      grow(active);
    }
    return false;
  }

  MixedAnswer minimised(const Layout& layout, const std::vector<double>& cost, const MixedWish& wish) {
    MixedAnswer found = minimise(layout.program, cost, wish);
    solved_.nodes += found.nodes;
    return found;
  }

  /// Nodes of a large program cost as much as many of a small one: there are more of them, and each is a larger one.
  long long nodes_for(const Layout& layout) const {
    const auto times = static_cast<long long>(layout.quarters.size() / kSmall);
    return std::max<long long>(100, program_.node_limit / (10 * (1 + times * times)));
  }

  static double total(const std::vector<double>& cost, const Values& values) {
    double sum = 0.0;
    for (std::size_t c = 0; c < cost.size(); ++c) sum += cost[c] * values[c];
    return sum;
  }

  static void hold_still(Layout& layout, int group) {
    auto& q = layout.program.columns[at(layout.quarters[at(group)])];
    q.low = q.high = 0.0;
    for (const Layout::Level& level : layout.levels) {
      if (level.group == group) layout.program.columns[at(level.column)].high = 0.0;
    }
  }

  /// Groups that the relaxed program turns, and those in rows that differ in gap from the row before.
  std::vector<bool> seeds(const Layout& layout, const Values& relaxed) const {
    std::vector<bool> active(part_.groups.size(), false);
    for (std::size_t g = 0; g < active.size(); ++g) active[g] = std::abs(relaxed[at(layout.quarters[g])]) > 1e-7;
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      const double before = part_.base[r] < 0 ? 0.0 : row(at(part_.base[r])).gap;
      if (std::abs(row(r).gap - before) <= row(r).tolerance) continue;
      for (const auto& [g, mm] : part_.added[r]) active[at(g)] = true;
    }
    grow_by_whole(active);
    return active;
  }

  void grow_by_whole(std::vector<bool>& active) const {
    for (const std::vector<int>& set : part_.whole) {
      if (std::any_of(set.begin(), set.end(), [&](int g) { return active[at(g)]; })) {
        for (const int g : set) active[at(g)] = true;
      }
    }
  }

  void grow(std::vector<bool>& active) const {
    const std::vector<bool> before = active;
    for (const auto& added : part_.added) {
      if (std::any_of(added.begin(), added.end(), [&](const auto& term) { return before[at(term.first)]; })) {
        for (const auto& [g, mm] : added) active[at(g)] = true;
      }
    }
    grow_by_whole(active);
  }

  /// Marks rows without which the rest can hold: the fewest where they can be counted, else those that stay farthest.
  void give_up() {
    int wide_of = 0;
    for (std::size_t r = 0; r < part_.rows.size(); ++r) wide_of += off(r) && !given_up_[r] ? 1 : 0;
    const bool counted = small_ && wide_of <= kCounted;
    const std::vector<bool> before = given_up_;
    mark_given_up(counted, program_.node_limit);
    // Fractions may hold what whole turns cannot, and then tell nothing apart.
    if (!counted && given_up_ == before) mark_given_up(true, kNodesToCount);
    if (!counted) give_up_alike();
  }
  void mark_given_up(bool counted, long long node_limit) {
    // Beyond counting, what one turn a thread leaves open is given up: a fault of inches is not to be wrenched away
    // over half the frame.
    Layout layout = lay_out(program_, part_, given_up_, {counted, true, counted ? GiveUp::counted : GiveUp::measured});
    std::vector<double> cost(layout.program.columns.size(), 0.0);
    for (const int column : layout.open) {
      if (column >= 0) cost[at(column)] = 1.0;
    }
    const MixedAnswer found = minimised(layout, cost, {node_limit, !counted, counted, program_.foreman});
    if (found.status == MixedAnswer::Status::limit) solved_.proven = false;
    for (std::size_t r = 0; r < part_.rows.size(); ++r) {
      if (found.values.empty()) {
        given_up_[r] = off(r);
      } else if (layout.open[r] >= 0) {
        given_up_[r] = found.values[at(layout.open[r])] > (counted ? 0.5 : 1e-5);
      }
    }
  }

  /// Rows that are off by the same as the row they follow are off for the same reason: all or none are given up.
  void give_up_alike() {
    std::vector<std::size_t> cause(part_.rows.size());
    std::vector<bool> hopeless(part_.rows.size(), false);
    for (std::size_t r = 0; r < cause.size(); ++r) {
      cause[r] = r;
      if (part_.base[r] >= 0 && off(r)) {
        const std::size_t before = at(part_.base[r]);
        if (off(before) && std::abs(row(r).gap - row(before).gap) <= row(r).tolerance) cause[r] = cause[before];
      }
      if (given_up_[r]) hopeless[cause[r]] = true;
    }
    for (std::size_t r = 0; r < cause.size(); ++r) given_up_[r] = off(r) && hopeless[cause[r]];
  }

  /// Solves, then holds the program to the cost that was reached (all costs are whole numbers).
  std::optional<Values> minimise_and_fix(Layout& layout, const std::vector<double>& cost) {
    const MixedAnswer found = minimised(layout, cost, {program_.node_limit, false, true, program_.foreman});
    if (found.status == MixedAnswer::Status::limit) solved_.proven = false;
    refuted_ = found.status == MixedAnswer::Status::infeasible;
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

  void record(const Layout& layout, const Values& values) {
    for (std::size_t g = 0; g < part_.groups.size(); ++g) {
      solved_.quarters[g] = static_cast<int>(std::lround(values[at(layout.quarters[g])]));
    }
    for (std::size_t s = 0; s < part_.shifts.size(); ++s) solved_.shifts[s] = values[at(layout.shift[s])];
    solved_.open = given_up_;
  }

  const TurnProgram& program_;
  const Component& part_;
  SolvedComponent solved_;
  std::vector<bool> given_up_;  ///< per row of the component
  bool small_;
  bool refuted_ = false;  ///< what was looked for last is not there, by proof
};

/// Puts a component's turning into that of the whole: each group's quarters are shared out evenly, those of low rank
/// first.
void give_out(const Component& part, const SolvedComponent& solved, TurnAnswer& answer) {
  for (std::size_t g = 0; g < part.groups.size(); ++g) {
    const Group& group = part.groups[g];
    const int all = solved.quarters[g];
    const int n = group.count();
    for (int m = 0; m < n; ++m) {
      const int share = std::abs(all) / n + (m < std::abs(all) % n ? 1 : 0);
      answer.quarters[at(group.members[at(m)])] = all < 0 ? -share : share;
    }
  }
  for (std::size_t s = 0; s < part.shifts.size(); ++s) answer.shifts[at(part.shifts[s])] = solved.shifts[s];
  for (std::size_t r = 0; r < part.rows.size(); ++r) answer.open[at(part.rows[r])] = solved.open[r];
  answer.proven = answer.proven && solved.proven;
}

}  // namespace

TurnAnswer least_turning(const TurnProgram& program, TurnMemory& memory) {
  TurnAnswer answer;
  answer.quarters.assign(program.unknowns.size(), 0);
  answer.shifts.assign(at(program.free_unknowns), 0.0);
  answer.open.assign(program.rows.size(), false);
  for (std::size_t r = 0; r < program.rows.size(); ++r) {
    const TurnRow& row = program.rows[r];
    if (row.terms.empty()) answer.open[r] = is_off(row);
  }
  bool must_open = std::find(answer.open.begin(), answer.open.end(), true) != answer.open.end();
  for (const Component& part : components_of(program)) {
    const TurnMemory::Key key = TurnMemory::key_of(program, part);
    const SolvedComponent* known = memory.find(key);
    SolvedComponent solved = known != nullptr ? *known : Solver(program, part).solve();
    give_out(part, solved, answer);
    must_open = must_open || solved.must_open;
    if (known != nullptr) continue;
    answer.nodes += solved.nodes;
    // What the foreman cut short is no answer to the next one.
    if (may_go_on(program.foreman, 0, program.node_limit)) memory.keep(key, std::move(solved));
  }
  const bool open = std::find(answer.open.begin(), answer.open.end(), true) != answer.open.end();
  answer.decided = !open || must_open;
  return answer;
}

TurnAnswer least_turning(const TurnProgram& program) {
  TurnMemory memory;
  return least_turning(program, memory);
}

}  // namespace dryfit::planner
