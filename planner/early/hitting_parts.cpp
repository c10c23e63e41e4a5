#include "planner/early/hitting_parts.hpp"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <map>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"

namespace dryfit::planner {
namespace {

/// One bit for each element, many to a bit: a set can only be part of another if its bits are.
std::uint64_t bits_of(const std::vector<int>& set) {
  std::uint64_t bits = 0;
  for (const int e : set) bits |= std::uint64_t{1} << (at(e) % 64);
  return bits;
}

/// Which sets every element is in, and which count only once it is picked. Elements are numbered anew, in their order.
class Elements {
 public:
  explicit Elements(const std::vector<SetToMeet>& sets) {
    for (const SetToMeet& set : sets) {
      numbers_.insert(numbers_.end(), set.of.begin(), set.of.end());
      if (set.once != SetToMeet::kAlways) numbers_.push_back(set.once);
    }
    std::sort(numbers_.begin(), numbers_.end());
    numbers_.erase(std::unique(numbers_.begin(), numbers_.end()), numbers_.end());
    in_.resize(numbers_.size());
    asks_.resize(numbers_.size(), 0);
    for (std::size_t s = 0; s < sets.size(); ++s) {
      for (const int e : sets[s].of) in_[index_of(e)].push_back(s);
      if (sets[s].once != SetToMeet::kAlways) asks_[index_of(sets[s].once)] = 1;
    }
  }
  [[nodiscard]] std::size_t size() const { return numbers_.size(); }
  [[nodiscard]] int number(std::size_t i) const { return numbers_[i]; }
  [[nodiscard]] std::size_t index_of(int e) const {
    return static_cast<std::size_t>(std::lower_bound(numbers_.begin(), numbers_.end(), e) - numbers_.begin());
  }
  [[nodiscard]] const std::vector<std::size_t>& sets_with(std::size_t i) const { return in_[i]; }
  /// Picking `i` makes other sets count.
  [[nodiscard]] bool asks_for_more(std::size_t i) const { return asks_[i] != 0; }

 private:
  std::vector<int> numbers_;
  std::vector<std::vector<std::size_t>> in_;  ///< ascending
  std::vector<char> asks_;
};

/// Whoever picks `e` may as well pick `other`. Of two that can stand for each other the earlier one stays.
bool stands_for(const Elements& elements, std::size_t other, std::size_t e) {
  if (other == e || elements.asks_for_more(other)) return false;
  const auto &mine = elements.sets_with(e), &its = elements.sets_with(other);
  if (!std::includes(its.begin(), its.end(), mine.begin(), mine.end())) return false;
  return its.size() > mine.size() || elements.asks_for_more(e) || other < e;
}

/// Per element: nothing is lost when it is never picked.
std::vector<char> dispensable(const std::vector<SetToMeet>& sets, const Elements& elements) {
  std::vector<char> gone(elements.size(), 0);
  for (std::size_t e = 0; e < elements.size(); ++e) {
    const auto& in = elements.sets_with(e);
    if (in.empty()) {
      gone[e] = 1;  // it meets nothing, it only asks for more
      continue;
    }
    // What stands for it is in all of its sets, so in the smallest of them.
    const std::size_t least =
        *std::min_element(in.begin(), in.end(), [&](auto s, auto t) { return sets[s].of.size() < sets[t].of.size(); });
    gone[e] = static_cast<char>(std::any_of(sets[least].of.begin(), sets[least].of.end(), [&](int other) {
      return stands_for(elements, elements.index_of(other), e);
    }));
  }
  return gone;
}

/// Takes elements that can be spared out of all sets; what only they ask for is asked for by nobody. True if any went.
bool spare(std::vector<SetToMeet>& sets) {
  const Elements elements(sets);
  const std::vector<char> gone = dispensable(sets, elements);
  if (std::none_of(gone.begin(), gone.end(), [](char g) { return g != 0; })) return false;
  const auto is_gone = [&](int e) { return gone[elements.index_of(e)] != 0; };
  std::erase_if(sets, [&](const SetToMeet& set) { return set.once != SetToMeet::kAlways && is_gone(set.once); });
  for (SetToMeet& set : sets) std::erase_if(set.of, is_gone);
  return true;
}

/// Picks what is the only one left of a set that always counts. True if any was.
bool pick_the_last(std::vector<SetToMeet>& sets, std::vector<int>& forced) {
  const std::size_t before = forced.size();
  for (const SetToMeet& set : sets) {
    if (set.once == SetToMeet::kAlways && set.of.size() == 1) forced.push_back(set.of.front());
  }
  if (forced.size() == before) return false;
  std::sort(forced.begin(), forced.end());
  const auto picked = [&](int e) { return std::binary_search(forced.begin(), forced.end(), e); };
  std::erase_if(sets, [&](const SetToMeet& set) { return std::any_of(set.of.begin(), set.of.end(), picked); });
  for (SetToMeet& set : sets) {
    if (set.once != SetToMeet::kAlways && picked(set.once)) set.once = SetToMeet::kAlways;
  }
  return true;
}

std::vector<std::vector<SetToMeet>> cut(std::vector<SetToMeet> sets) {
  const Elements elements(sets);
  DisjointSets together(elements.size());
  const auto index = [&](int e) { return static_cast<int>(elements.index_of(e)); };
  for (const SetToMeet& set : sets) {
    for (const int e : set.of) together.join(index(set.of.front()), index(e));
    if (set.once != SetToMeet::kAlways) together.join(index(set.of.front()), index(set.once));
  }
  std::vector<std::vector<SetToMeet>> parts;
  std::map<int, std::size_t> part_of;
  for (SetToMeet& set : sets) {
    const auto [found, fresh] = part_of.emplace(together.find(index(set.of.front())), parts.size());
    if (fresh) parts.emplace_back();
    parts[found->second].push_back(std::move(set));
  }
  std::stable_sort(parts.begin(), parts.end(), [](const auto& a, const auto& b) { return a.size() < b.size(); });
  return parts;
}

}  // namespace

std::vector<SetToMeet> without_implied(std::vector<SetToMeet> sets) {
  std::stable_sort(sets.begin(), sets.end(), [](const SetToMeet& a, const SetToMeet& b) {
    return std::pair(a.of.size(), a.once != SetToMeet::kAlways) < std::pair(b.of.size(), b.once != SetToMeet::kAlways);
  });
  std::vector<SetToMeet> kept;
  std::vector<std::uint64_t> bits;
  for (SetToMeet& set : sets) {
    const std::uint64_t own = bits_of(set.of);
    bool implied = std::binary_search(set.of.begin(), set.of.end(), set.once);
    for (std::size_t k = 0; k < kept.size() && !implied; ++k) {
      implied = (bits[k] & ~own) == 0 && (kept[k].once == SetToMeet::kAlways || kept[k].once == set.once) &&
                std::includes(set.of.begin(), set.of.end(), kept[k].of.begin(), kept[k].of.end());
    }
    if (implied) continue;
    kept.push_back(std::move(set));
    bits.push_back(own);
  }
  return kept;
}

HittingParts hitting_parts(std::vector<SetToMeet> sets) {
  HittingParts result;
  do {
    sets = without_implied(std::move(sets));
  } while (pick_the_last(sets, result.forced) || spare(sets));
  result.parts = cut(std::move(sets));
  return result;
}

}  // namespace dryfit::planner
