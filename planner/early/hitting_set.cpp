#include "planner/early/hitting_set.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

/// Always counts.
constexpr int kAlways = -1;
constexpr int kNoLimit = std::numeric_limits<int>::max() / 2;

class HittingSearch {
 public:
  /// `once`: per set the element that makes it count, or kAlways.
  HittingSearch(std::vector<std::vector<int>> sets, std::vector<int> once,
                const std::vector<std::vector<int>>& forbidden, int elements, int most, long long budget)
      : forbidden_(&forbidden),
        most_(at(most)),
        sets_(std::move(sets)),
        once_(std::move(once)),
        in_sets_(at(elements)),
        hits_(sets_.size(), 0),
        taken_(at(elements), 0),
        barred_(at(elements), 0),
        budget_(budget) {
    for (std::size_t s = 0; s < sets_.size(); ++s) {
      for (const int e : sets_[s]) in_sets_[at(e)].push_back(static_cast<int>(s));
    }
  }

  HittingSet run() {
    if (forbidden_->empty()) greedy();
    HittingSet result;
    result.at_least = bound();
    branch();
    result.possible = found_;
    result.elements = best_;
    std::sort(result.elements.begin(), result.elements.end());
    result.proven = budget_ >= 0;
    if (result.proven && found_) result.at_least = static_cast<int>(best_.size());
    return result;
  }

 private:
  /// Nothing (more) is asked for by the set.
  [[nodiscard]] bool met(std::size_t s) const {
    return hits_[s] > 0 || (once_[s] != kAlways && taken_[at(once_[s])] == 0);
  }
  void pick(int e, int by) {
    taken_[at(e)] += static_cast<char>(by);
    for (const int s : in_sets_[at(e)]) hits_[at(s)] += by;
  }

  void greedy() {
    std::vector<int> picked;
    for (;;) {
      int best = -1, most = 0;
      for (std::size_t e = 0; e < in_sets_.size(); ++e) {
        const auto open =
            static_cast<int>(std::count_if(in_sets_[e].begin(), in_sets_[e].end(), [&](int s) { return !met(at(s)); }));
        if (open > most) {
          most = open;
          best = static_cast<int>(e);
        }
      }
      if (best < 0) break;
      picked.push_back(best);
      pick(best, 1);
    }
    for (const int e : picked) pick(e, -1);
    if (picked.size() > most_) return;
    best_ = std::move(picked);
    found_ = true;
  }

  /// Size that a better one must stay under.
  [[nodiscard]] std::size_t limit() const { return found_ ? best_.size() : most_ + 1; }

  [[nodiscard]] bool is_forbidden() const {
    return std::any_of(forbidden_->begin(), forbidden_->end(), [&](const std::vector<int>& set) {
      return std::all_of(set.begin(), set.end(),
                         [&](int e) { return std::find(picked_.begin(), picked_.end(), e) != picked_.end(); });
    });
  }

  /// Sets not met, smallest first, as long as they share nothing: each needs an element of its own.
  int bound() {
    std::vector<std::size_t> open;
    std::vector<int> sizes(sets_.size(), 0);
    for (std::size_t s = 0; s < sets_.size(); ++s) {
      if (met(s)) continue;
      open.push_back(s);
      sizes[s] = static_cast<int>(std::count_if(sets_[s].begin(), sets_[s].end(), [&](int e) { return !barred(e); }));
    }
    std::stable_sort(open.begin(), open.end(), [&](std::size_t a, std::size_t b) { return sizes[a] < sizes[b]; });
    std::vector<char> used(in_sets_.size(), 0);
    int disjoint = 0;
    for (const std::size_t s : open) {
      const bool apart =
          std::none_of(sets_[s].begin(), sets_[s].end(), [&](int e) { return !barred(e) && used[at(e)] != 0; });
      if (!apart) continue;
      ++disjoint;
      for (const int e : sets_[s]) {
        if (!barred(e)) used[at(e)] = 1;
      }
    }
    return disjoint;
  }

  [[nodiscard]] bool barred(int e) const { return barred_[at(e)] != 0; }

  void branch() {
    if (--budget_ < 0) return;
    int smallest = -1;
    std::ptrdiff_t size = 0;
    for (std::size_t s = 0; s < sets_.size(); ++s) {
      if (met(s)) continue;
      const auto open = std::count_if(sets_[s].begin(), sets_[s].end(), [&](int e) { return !barred(e); });
      if (smallest < 0 || open < size) {
        smallest = static_cast<int>(s);
        size = open;
      }
    }
    if (smallest < 0) {
      if (picked_.size() < limit()) {
        best_ = picked_;
        found_ = true;
      }
      return;
    }
    if (size == 0 || picked_.size() + at(bound()) >= limit()) return;
    // Elements that meet many open sets first; each is barred once it has been tried.
    std::vector<int> order;
    for (const int e : sets_[at(smallest)]) {
      if (!barred(e)) order.push_back(e);
    }
    const auto open_sets = [&](int e) {
      const auto& in = in_sets_[at(e)];
      return std::count_if(in.begin(), in.end(), [&](int s) { return !met(at(s)); });
    };
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return open_sets(a) > open_sets(b); });
    for (const int e : order) {
      picked_.push_back(e);
      pick(e, 1);
      if (!is_forbidden()) branch();
      pick(e, -1);
      picked_.pop_back();
      barred_[at(e)] = 1;
    }
    for (const int e : order) barred_[at(e)] = 0;
  }

  const std::vector<std::vector<int>>* forbidden_;
  std::size_t most_;
  bool found_ = false;
  std::vector<std::vector<int>> sets_;
  std::vector<int> once_;
  std::vector<std::vector<int>> in_sets_;
  std::vector<int> hits_;
  std::vector<char> taken_;
  std::vector<char> barred_;
  std::vector<int> picked_;
  std::vector<int> best_;
  long long budget_;
};

/// Ascending, each once.
std::vector<int> in_order(std::vector<int> set) {
  std::sort(set.begin(), set.end());
  set.erase(std::unique(set.begin(), set.end()), set.end());
  return set;
}

/// The sets without those that are met with another one.
class Kept {
 public:
  void add(std::vector<int> set, int once) {
    const bool implied = std::any_of(order_.begin(), order_.end(), [&](std::size_t s) {
      return (once_[s] == kAlways || once_[s] == once) &&
             std::includes(set.begin(), set.end(), sets[s].begin(), sets[s].end());
    });
    if (implied) return;
    order_.push_back(sets.size());
    sets.push_back(std::move(set));
    once_.push_back(once);
  }
  [[nodiscard]] const std::vector<int>& once() const { return once_; }
  std::vector<std::vector<int>> sets;

 private:
  std::vector<int> once_;
  std::vector<std::size_t> order_;
};

HittingSet smallest(const std::vector<std::vector<int>>& sets, const std::vector<ImpliedSet>& implied,
                    const std::vector<std::vector<int>>& forbidden, int most, long long budget) {
  std::vector<std::pair<std::vector<int>, int>> sorted;
  for (const auto& set : sets) sorted.emplace_back(in_order(set), kAlways);
  for (const ImpliedSet& set : implied) sorted.emplace_back(in_order(set.of), set.once);
  int elements = 0;
  for (const auto& [set, once] : sorted) elements = std::max({elements, once + 1, set.empty() ? 0 : set.back() + 1});
  for (const auto& set : forbidden) {
    if (!set.empty()) elements = std::max(elements, *std::max_element(set.begin(), set.end()) + 1);
  }
  std::stable_sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) {
    return std::pair(a.first.size(), a.second != kAlways) < std::pair(b.first.size(), b.second != kAlways);
  });
  if (!sorted.empty() && sorted.front().first.empty() && sorted.front().second == kAlways) {
    return {{}, elements + 1, false, true};
  }
  Kept kept;
  for (auto& [set, once] : sorted) kept.add(std::move(set), once);
  std::vector<int> once = kept.once();
  return HittingSearch(std::move(kept.sets), std::move(once), forbidden, elements, most, budget).run();
}

}  // namespace

HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets, long long budget) {
  return smallest(sets, {}, {}, kNoLimit, budget);
}

HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets, const std::vector<ImpliedSet>& implied,
                                long long budget) {
  return smallest(sets, implied, {}, kNoLimit, budget);
}

HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets,
                                const std::vector<std::vector<int>>& forbidden, int most, long long budget) {
  return smallest(sets, {}, forbidden, most, budget);
}

}  // namespace dryfit::planner
