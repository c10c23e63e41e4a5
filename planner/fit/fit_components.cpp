#include "planner/fit/fit_components.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <set>
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

/// The terms of a row less its whole sets, each of which has to be in one sense; nothing where one is not.
std::optional<Terms> beside_whole_sets(const Component& part, const Terms& terms) {
  std::map<int, double> mm(terms.begin(), terms.end());
  for (const std::vector<int>& set : part.whole) {
    const bool all = std::all_of(set.begin(), set.end(), [&](int g) { return mm.count(g) > 0; });
    if (!all || set.empty()) continue;
    const bool one_sense =
        std::all_of(set.begin(), set.end(), [&](int g) { return (mm[g] > 0.0) == (mm[set.front()] > 0.0); });
    if (!one_sense) return std::nullopt;
    for (const int g : set) mm.erase(g);
  }
  return Terms(mm.begin(), mm.end());
}

Window window_of(const TurnRow& row, const Component& part, std::size_t r) {
  Window window{row.above_only ? -kNoBound : -row.gap - row.tolerance, -row.gap + row.tolerance};
  const Terms& terms = part.row_groups[r];
  const double pitch = pitch_of(terms);
  if (pitch == 0.0 || !part.row_shifts[r].empty()) return window;
  const auto beside = beside_whole_sets(part, terms);
  const double step = beside && beside->empty() ? kQuarters * pitch : pitch;
  if (!row.above_only) window.low = std::ceil((window.low - kHair) / step) * step;
  window.high = std::floor((window.high + kHair) / step) * step;
  return window;
}

/// Finds the rows of whole turns and a loose sum, and the loose sums, each once.
void find_loose_sums(Component& part) {
  std::map<std::vector<std::pair<int, int>>, int> known;
  part.mixed.resize(part.rows.size());
  for (std::size_t r = 0; r < part.rows.size(); ++r) {
    const Terms& terms = part.row_groups[r];
    const double pitch = pitch_of(terms);
    if (pitch == 0.0 || !part.row_shifts[r].empty()) continue;
    const auto beside = beside_whole_sets(part, terms);
    if (!beside || beside->empty() || beside->size() == terms.size()) continue;
    const int sense = beside->front().second > 0.0 ? 1 : -1;
    LooseSum sum;
    for (const auto& [g, mm] : *beside) sum.terms.emplace_back(g, mm > 0.0 ? sense : -sense);
    const auto [place, fresh] = known.try_emplace(sum.terms, static_cast<int>(part.loose.size()));
    part.mixed[r] = {place->second, sense, pitch};
    if (fresh) part.loose.push_back(std::move(sum));
  }
}

/// What an unknown does, as a key: where it stands with which effect, in which whole sets, within which limits.
struct Does {
  Terms terms;  ///< (row, mm per quarter)
  std::vector<int> whole;
  std::array<int, 4> limits{};
  friend bool operator<(const Does& a, const Does& b) {
    return std::tie(a.terms, a.whole, a.limits) < std::tie(b.terms, b.whole, b.limits);
  }
  [[nodiscard]] bool nothing() const { return terms.empty() && whole.empty(); }
};

std::vector<Does> what_unknowns_do(const TurnProgram& program) {
  const int n = static_cast<int>(program.unknowns.size());
  std::vector<Does> does(at(n));
  for (int u = 0; u < n; ++u) {
    const TurnUnknown& limits = program.unknowns[at(u)];
    does[at(u)].limits = {limits.low, limits.high, limits.soft_low, limits.soft_high};
  }
  for (std::size_t r = 0; r < program.rows.size(); ++r) {
    for (const auto& [unknown, mm] : program.rows[r].terms) {
      if (unknown < n) does[at(unknown)].terms.emplace_back(static_cast<int>(r), mm);
    }
  }
  for (std::size_t w = 0; w < program.whole.size(); ++w) {
    for (const int unknown : program.whole[w]) does[at(unknown)].whole.push_back(static_cast<int>(w));
  }
  return does;
}

/// What belongs to one component, by number in the program.
struct Share {
  std::vector<int> unknowns;
  std::vector<int> shifts;
  std::vector<int> rows;
  std::vector<int> whole;
  bool off = false;  ///< one of its rows is
};

/// The shares, by the unknown that stands for each.
std::map<int, Share> shares_of(const TurnProgram& program) {
  const int n = static_cast<int>(program.unknowns.size());
  DisjointSets sets(at(n + program.free_unknowns));
  for (const TurnRow& row : program.rows) {
    for (const auto& [unknown, mm] : row.terms) sets.join(unknown, row.terms.front().first);
  }
  for (const std::vector<int>& set : program.whole) {
    for (const int unknown : set) sets.join(unknown, set.front());
  }
  std::map<int, Share> shares;
  for (int u = 0; u < n; ++u) shares[sets.find(u)].unknowns.push_back(u);
  for (int s = 0; s < program.free_unknowns; ++s) shares[sets.find(n + s)].shifts.push_back(s);
  for (std::size_t r = 0; r < program.rows.size(); ++r) {
    const TurnRow& row = program.rows[r];
    if (row.terms.empty()) continue;
    Share& share = shares[sets.find(row.terms.front().first)];
    share.rows.push_back(static_cast<int>(r));
    share.off = share.off || is_off(row);
  }
  for (std::size_t w = 0; w < program.whole.size(); ++w) {
    shares[sets.find(program.whole[w].front())].whole.push_back(static_cast<int>(w));
  }
  return shares;
}

/// Puts a share's unknowns into groups of those that do the same. Returns the group of each, by unknown.
std::map<int, int> make_groups(const TurnProgram& program, const Share& share, const std::vector<Does>& does,
                               Component& part) {
  std::map<Does, int> group_of;
  std::map<int, int> group_of_unknown;
  for (const int u : share.unknowns) {
    if (does[at(u)].nothing()) continue;
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
  return group_of_unknown;
}

Component component_of(const TurnProgram& program, const Share& share, const std::vector<Does>& does) {
  const int n = static_cast<int>(program.unknowns.size());
  Component part;
  const std::map<int, int> group_of = make_groups(program, share, does, part);
  part.shifts = share.shifts;
  part.rows = share.rows;
  for (const int r : part.rows) {
    std::map<int, double> groups;
    Terms shifts;
    for (const auto& [unknown, mm] : program.rows[at(r)].terms) {
      if (unknown < n) {
        groups[group_of.at(unknown)] = mm;
      } else {
        const auto place = std::lower_bound(part.shifts.begin(), part.shifts.end(), unknown - n);
        shifts.emplace_back(static_cast<int>(place - part.shifts.begin()), mm);
      }
    }
    part.row_groups.emplace_back(groups.begin(), groups.end());
    part.row_shifts.push_back(std::move(shifts));
  }
  for (const int w : share.whole) {
    std::set<int> groups;
    for (const int unknown : program.whole[at(w)]) groups.insert(group_of.at(unknown));
    part.whole.emplace_back(groups.begin(), groups.end());
  }
  for (std::size_t r = 0; r < part.rows.size(); ++r) {
    part.windows.push_back(window_of(program.rows[at(part.rows[r])], part, r));
  }
  find_loose_sums(part);
  find_bases(part);
  return part;
}

}  // namespace

std::vector<Component> components_of(const TurnProgram& program) {
  const std::vector<Does> does = what_unknowns_do(program);
  const std::map<int, Share> shares = shares_of(program);
  std::map<int, const Share*> off;  // by first row
  for (const auto& [stands_for, share] : shares) {
    if (share.off) off.emplace(share.rows.front(), &share);
  }
  std::vector<Component> out;
  for (const auto& [first_row, share] : off) out.push_back(component_of(program, *share, does));
  return out;
}

}  // namespace dryfit::planner
