#include "planner/early/hitting_set.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/early/hitting_parts.hpp"
#include "planner/early/hitting_search.hpp"

namespace dryfit::planner {
namespace {

/// Parts of so few sets are searched as they are: cutting them up costs more.
constexpr std::size_t kFewSets = 12;

/// Ascending, each once.
std::vector<int> in_order(std::vector<int> set) {
  if (!std::is_sorted(set.begin(), set.end())) std::sort(set.begin(), set.end());
  set.erase(std::unique(set.begin(), set.end()), set.end());
  return set;
}

/// Sets left, and what a smallest choice for them is known to be. Final when `at_least` is the number of elements.
class ByParts {
 public:
  explicit ByParts(long long budget) : budget_(budget) {}

  /// One question for each part. A choice of `limit` elements or more is of no use.
  HittingSet all(std::vector<SetToMeet> sets, int limit) {
    HittingParts cut = hitting_parts(std::move(sets));
    HittingSet result;
    result.elements = std::move(cut.forced);
    int least = static_cast<int>(result.elements.size());
    std::vector<int> bounds;
    for (const auto& part : cut.parts) least += bounds.emplace_back(apart_from_each_other(part));
    for (std::size_t p = 0; p < cut.parts.size(); ++p) {
      const HittingSet found = part(std::move(cut.parts[p]), bounds[p], limit - (least - bounds[p]));
      result.elements.insert(result.elements.end(), found.elements.begin(), found.elements.end());
      least += std::max(0, found.at_least - bounds[p]);
    }
    result.at_least = least;
    return result;
  }

 private:
  static int size_of(const HittingSet& set) { return static_cast<int>(set.elements.size()); }

  /// `least`: no choice for the part is smaller.
  HittingSet part(std::vector<SetToMeet> sets, int least, int limit) {
    if (sets.size() <= kFewSets || budget_ < 0 || least >= limit) {
      long long nothing = 0;
      HittingSet found = search_hitting_set(std::move(sets), {}, kNoHittingLimit, least >= limit ? nothing : budget_);
      found.at_least = std::max(found.at_least, least);
      return found;
    }
    budget_ -= 1 + static_cast<long long>(sets.size()) / 4;
    const int e = in_most(sets);
    HittingSet best = all(with(sets, e), limit - 1);
    best.elements.push_back(e);
    best.at_least = best.at_least + 1;
    auto rest = size_of(best) > least ? without(std::move(sets), e) : std::nullopt;
    if (rest) {
      HittingSet other = all(std::move(*rest), std::min(limit, size_of(best)));
      best.at_least = std::min(best.at_least, other.at_least);
      if (size_of(other) < size_of(best)) best.elements = std::move(other.elements);
    }
    best.at_least = std::max(best.at_least, least);
    return best;
  }

  static int in_most(const std::vector<SetToMeet>& sets) {
    std::vector<int> count;
    for (const SetToMeet& set : sets) {
      if (count.size() <= at(set.of.back())) count.resize(at(set.of.back()) + 1, 0);
      for (const int e : set.of) ++count[at(e)];
    }
    return static_cast<int>(std::max_element(count.begin(), count.end()) - count.begin());
  }

  /// What is left to do once `e` is picked.
  static std::vector<SetToMeet> with(const std::vector<SetToMeet>& sets, int e) {
    std::vector<SetToMeet> left;
    left.reserve(sets.size());
    for (const SetToMeet& set : sets) {
      if (std::binary_search(set.of.begin(), set.of.end(), e)) continue;
      left.push_back(set);
      if (set.once == e) left.back().once = SetToMeet::kAlways;
    }
    return left;
  }

  /// What is left to do without `e`; nothing when that cannot be.
  static std::optional<std::vector<SetToMeet>> without(std::vector<SetToMeet> sets, int e) {
    std::erase_if(sets, [&](const SetToMeet& set) { return set.once == e; });
    for (SetToMeet& set : sets) std::erase(set.of, e);
    const auto empty = std::find_if(sets.begin(), sets.end(), [](const SetToMeet& set) { return set.of.empty(); });
    if (empty == sets.end()) return sets;
    if (empty->once == SetToMeet::kAlways) return std::nullopt;
    const int asks_in_vain = empty->once;
    return without(std::move(sets), asks_in_vain);
  }

  long long budget_;
};

/// One more than there are elements: nothing meets an empty set.
HittingSet impossible(const std::vector<SetToMeet>& sets) {
  int elements = 0;
  for (const SetToMeet& set : sets) {
    elements = std::max({elements, set.once + 1, set.of.empty() ? 0 : set.of.back() + 1});
  }
  return {{}, elements + 1, false, true};
}

HittingSet smallest(const std::vector<std::vector<int>>& sets, const std::vector<ImpliedSet>& implied,
                    long long budget) {
  std::vector<SetToMeet> all;
  for (const auto& set : sets) all.push_back({in_order(set)});
  for (const ImpliedSet& set : implied) all.push_back({in_order(set.of), set.once});
  if (std::any_of(sets.begin(), sets.end(), [](const auto& set) { return set.empty(); })) return impossible(all);
  HittingSet result = ByParts(budget).all(std::move(all), kNoHittingLimit);
  std::sort(result.elements.begin(), result.elements.end());
  result.proven = result.at_least == static_cast<int>(result.elements.size());
  return result;
}

}  // namespace

HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets, long long budget) {
  return smallest(sets, {}, budget);
}

HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets, const std::vector<ImpliedSet>& implied,
                                long long budget) {
  return smallest(sets, implied, budget);
}

HittingSet smallest_hitting_set(const std::vector<std::vector<int>>& sets,
                                const std::vector<std::vector<int>>& forbidden, int most, long long budget) {
  if (forbidden.empty() && most >= kNoHittingLimit) return smallest(sets, {}, budget);
  std::vector<SetToMeet> all;
  for (const auto& set : sets) all.push_back({in_order(set)});
  if (std::any_of(sets.begin(), sets.end(), [](const auto& set) { return set.empty(); })) return impossible(all);
  return search_hitting_set(without_implied(std::move(all)), forbidden, most, budget);
}

}  // namespace dryfit::planner
