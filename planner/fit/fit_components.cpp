#include "planner/fit/fit_components.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"
#include "planner/fit/fit_solver.hpp"

namespace dryfit::planner {

namespace {

constexpr std::size_t kLookBack = 64;  ///< earlier rows that a row is compared with

using Terms = std::vector<std::pair<int, double>>;

/// What `row` adds to `base`; stops and returns nothing when that is `limit` terms or more.
std::optional<Terms> added_to(const Terms& base, const Terms& row, std::size_t limit) {
  Terms out;
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < base.size() || j < row.size()) {
    if (j == row.size() || (i < base.size() && base[i].first < row[j].first)) {
      out.emplace_back(base[i].first, -base[i].second);
      ++i;
    } else if (i == base.size() || row[j].first < base[i].first) {
      out.push_back(row[j++]);
    } else {
      if (base[i].second != row[j].second) out.emplace_back(row[j].first, row[j].second - base[i].second);
      ++i;
      ++j;
    }
    if (out.size() >= limit) return std::nullopt;
  }
  return out;
}

void find_bases(Component& part) {
  for (std::size_t r = 0; r < part.rows.size(); ++r) {
    int base = -1;
    Terms added = part.row_groups[r];
    for (std::size_t back = 1; back <= std::min(r, kLookBack); ++back) {
      if (auto less = added_to(part.row_groups[r - back], part.row_groups[r], added.size())) {
        base = static_cast<int>(r - back);
        added = std::move(*less);
      }
    }
    part.base.push_back(base);
    part.added.push_back(std::move(added));
  }
}

/// The one pitch of all terms, mm per quarter; 0 when they differ.
double pitch_of(const Terms& terms) {
  constexpr double kSame = 1e-9;
  const double first = terms.empty() ? 0.0 : std::abs(terms.front().second);
  const bool same = std::all_of(terms.begin(), terms.end(),
                                [&](const auto& term) { return std::abs(std::abs(term.second) - first) < kSame; });
  return same ? first : 0.0;
}

/// True when the row is made of whole sets, each in one sense, so that its quarters add up to whole turns.
bool in_whole_turns(const Component& part, const Terms& terms) {
  std::map<int, double> mm(terms.begin(), terms.end());
  for (const std::vector<int>& set : part.whole) {
    const bool all = std::all_of(set.begin(), set.end(), [&](int g) { return mm.count(g) > 0; });
    if (!all || set.empty()) continue;
    const bool one_sense =
        std::all_of(set.begin(), set.end(), [&](int g) { return (mm[g] > 0.0) == (mm[set.front()] > 0.0); });
    if (!one_sense) return false;
    for (const int g : set) mm.erase(g);
  }
  return mm.empty();
}

Window window_of(const TurnRow& row, const Component& part, std::size_t r) {
  Window window{row.above_only ? -kNoBound : -row.gap - row.tolerance, -row.gap + row.tolerance};
  const Terms& terms = part.row_groups[r];
  const double pitch = pitch_of(terms);
  if (pitch == 0.0 || !part.row_shifts[r].empty()) return window;
  const double step = in_whole_turns(part, terms) ? kQuarters * pitch : pitch;
  if (!row.above_only) window.low = std::ceil((window.low - kHair) / step) * step;
  window.high = std::floor((window.high + kHair) / step) * step;
  return window;
}

}  // namespace

std::vector<Component> components_of(const TurnProgram& program) {
  const int n = static_cast<int>(program.unknowns.size());
  DisjointSets sets(at(n + program.free_unknowns));
  for (const TurnRow& row : program.rows) {
    for (const auto& [unknown, mm] : row.terms) sets.join(unknown, row.terms.front().first);
  }
  for (const std::vector<int>& set : program.whole) {
    for (const int unknown : set) sets.join(unknown, set.front());
  }
  std::map<int, std::vector<int>> rows_of;  // by the unknown that stands for the component
  std::map<int, bool> off;
  for (std::size_t r = 0; r < program.rows.size(); ++r) {
    const TurnRow& row = program.rows[r];
    if (row.terms.empty()) continue;
    const int key = sets.find(row.terms.front().first);
    rows_of[key].push_back(static_cast<int>(r));
    if (is_off(row)) off[key] = true;
  }
  // What an unknown does, as a key: where it stands, with which effect, within which limits.
  using Key = std::tuple<std::vector<std::pair<int, double>>, std::vector<int>, std::array<int, 4>>;
  std::vector<Key> does(at(n));
  for (int u = 0; u < n; ++u) {
    const TurnUnknown& limits = program.unknowns[at(u)];
    std::get<2>(does[at(u)]) = {limits.low, limits.high, limits.soft_low, limits.soft_high};
  }
  for (std::size_t r = 0; r < program.rows.size(); ++r) {
    for (const auto& [unknown, mm] : program.rows[r].terms) {
      if (unknown < n) std::get<0>(does[at(unknown)]).emplace_back(static_cast<int>(r), mm);
    }
  }
  for (std::size_t w = 0; w < program.whole.size(); ++w) {
    for (const int unknown : program.whole[w]) std::get<1>(does[at(unknown)]).push_back(static_cast<int>(w));
  }
  std::vector<std::vector<int>> members_of_key;
  std::map<int, std::vector<int>> unknowns_of;
  for (int u = 0; u < n; ++u) unknowns_of[sets.find(u)].push_back(u);
  std::map<int, std::vector<int>> shifts_of;
  for (int s = 0; s < program.free_unknowns; ++s) shifts_of[sets.find(n + s)].push_back(s);
  std::map<int, std::vector<int>> whole_of;
  for (std::size_t w = 0; w < program.whole.size(); ++w) {
    whole_of[sets.find(program.whole[w].front())].push_back(static_cast<int>(w));
  }

  std::vector<std::pair<int, int>> order;  // (first row, key)
  for (const auto& [key, is_off] : off) order.emplace_back(rows_of[key].front(), key);
  std::sort(order.begin(), order.end());
  std::vector<Component> out;
  for (const auto& [first_row, key] : order) {
    Component part;
    std::map<Key, int> group_of;
    std::map<int, int> group_of_unknown;
    for (const int u : unknowns_of[key]) {
      if (std::get<0>(does[at(u)]).empty() && std::get<1>(does[at(u)]).empty()) continue;
      const auto [place, fresh] = group_of.try_emplace(does[at(u)], static_cast<int>(part.groups.size()));
      if (fresh) part.groups.push_back({{}, program.unknowns[at(u)]});
      Group& group = part.groups[at(place->second)];
      group.members.push_back(u);
      group.limits.rank = std::min(group.limits.rank, program.unknowns[at(u)].rank);
      group_of_unknown[u] = place->second;
    }
    for (Group& group : part.groups) {
      std::stable_sort(group.members.begin(), group.members.end(),
                       [&](int a, int b) { return program.unknowns[at(a)].rank < program.unknowns[at(b)].rank; });
    }
    part.shifts = shifts_of[key];
    part.rows = rows_of[key];
    for (const int r : part.rows) {
      std::map<int, double> groups;
      std::vector<std::pair<int, double>> shifts;
      for (const auto& [unknown, mm] : program.rows[at(r)].terms) {
        if (unknown < n) {
          groups[group_of_unknown.at(unknown)] = mm;
        } else {
          const auto place = std::lower_bound(part.shifts.begin(), part.shifts.end(), unknown - n);
          shifts.emplace_back(static_cast<int>(place - part.shifts.begin()), mm);
        }
      }
      part.row_groups.emplace_back(groups.begin(), groups.end());
      part.row_shifts.push_back(std::move(shifts));
    }
    for (const int w : whole_of[key]) {
      std::vector<int> groups;
      for (const int unknown : program.whole[at(w)]) groups.push_back(group_of_unknown.at(unknown));
      std::sort(groups.begin(), groups.end());
      groups.erase(std::unique(groups.begin(), groups.end()), groups.end());
      part.whole.push_back(std::move(groups));
    }
    for (std::size_t r = 0; r < part.rows.size(); ++r) {
      part.windows.push_back(window_of(program.rows[at(part.rows[r])], part, r));
    }
    find_bases(part);
    out.push_back(std::move(part));
  }
  return out;
}

}  // namespace dryfit::planner
