#include "planner/early/hitting_search.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

/// Elements are numbered from 0 without a gap.
class HittingSearch {
 public:
  HittingSearch(std::vector<SetToMeet> sets, const std::vector<std::vector<int>>& forbidden, int elements, int most,
                long long& budget)
      : forbidden_(&forbidden),
        most_(at(most)),
        in_sets_(at(elements)),
        hits_(sets.size(), 0),
        taken_(at(elements), 0),
        barred_(at(elements), 0),
        budget_(budget) {
    for (SetToMeet& set : sets) {
      for (const int e : set.of) in_sets_[at(e)].push_back(static_cast<int>(sets_.size()));
      sets_.push_back(std::move(set.of));
      once_.push_back(set.once);
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
    return hits_[s] > 0 || (once_[s] != SetToMeet::kAlways && taken_[at(once_[s])] == 0);
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
  long long& budget_;
};

}  // namespace

/// With elements numbered anew; they are told of by their own numbers.
HittingSet search_hitting_set(std::vector<SetToMeet> sets, const std::vector<std::vector<int>>& forbidden, int most,
                              long long& budget) {
  std::vector<int> numbers;
  for (const SetToMeet& set : sets) {
    numbers.insert(numbers.end(), set.of.begin(), set.of.end());
    if (set.once != SetToMeet::kAlways) numbers.push_back(set.once);
  }
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
  const auto renumber = [&](int& e) {
    e = static_cast<int>(std::lower_bound(numbers.begin(), numbers.end(), e) - numbers.begin());
  };
  for (SetToMeet& set : sets) {
    for (int& e : set.of) renumber(e);
    if (set.once != SetToMeet::kAlways) renumber(set.once);
  }
  // What has an element that no set asks for is never picked whole.
  std::vector<std::vector<int>> apart;
  for (std::vector<int> set : forbidden) {
    const bool known = std::all_of(set.begin(), set.end(),
                                   [&](int e) { return std::binary_search(numbers.begin(), numbers.end(), e); });
    if (!known) continue;
    for (int& e : set) renumber(e);
    apart.push_back(std::move(set));
  }
  HittingSet result = HittingSearch(std::move(sets), apart, static_cast<int>(numbers.size()), most, budget).run();
  for (int& e : result.elements) e = numbers[at(e)];
  return result;
}

int apart_from_each_other(const std::vector<SetToMeet>& sets) {
  std::vector<const SetToMeet*> open;
  for (const SetToMeet& set : sets) {
    if (set.once == SetToMeet::kAlways) open.push_back(&set);
  }
  std::stable_sort(open.begin(), open.end(), [](auto* a, auto* b) { return a->of.size() < b->of.size(); });
  std::vector<char> used;
  int apart = 0;
  for (const SetToMeet* set : open) {
    if (std::any_of(set->of.begin(), set->of.end(), [&](int e) { return at(e) < used.size() && used[at(e)] != 0; })) {
      continue;
    }
    ++apart;
    for (const int e : set->of) {
      if (used.size() <= at(e)) used.resize(at(e) + 1, 0);
      used[at(e)] = 1;
    }
  }
  return apart;
}

}  // namespace dryfit::planner
