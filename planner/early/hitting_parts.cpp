#include "planner/early/hitting_parts.hpp"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <span>
#include <utility>

#include "model/frame/frame.hpp"
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

/// The largest element of any set; kNone when there is none.
int largest_of(const std::vector<SetToMeet>& sets) {
  int largest = model::kNone;
  for (const SetToMeet& set : sets) {
    largest = std::max(largest, set.once);
    for (const int e : set.of) largest = std::max(largest, e);
  }
  return largest;
}

/// Which sets every element is in, and which count only once it is picked. Elements are numbered anew, in their order.
class Elements {
 public:
  explicit Elements(const std::vector<SetToMeet>& sets) : index_(at(largest_of(sets) + 1), 0) {
    for (const SetToMeet& set : sets) {
      for (const int e : set.of) index_[at(e)] = 1;
      if (set.once != SetToMeet::kAlways) index_[at(set.once)] = 1;
    }
    std::size_t size = 0;
    for (std::size_t& index : index_) index = index != 0 ? size++ : 0;
    first_.assign(size + 1, 0);
    bits_.assign(size, 0);
    asks_.assign(size, 0);
    for (std::size_t s = 0; s < sets.size(); ++s) {
      for (const int e : sets[s].of) {
        ++first_[index_of(e) + 1];
        bits_[index_of(e)] |= std::uint64_t{1} << (s % 64);
      }
      if (sets[s].once != SetToMeet::kAlways) asks_[index_of(sets[s].once)] = 1;
    }
    for (std::size_t i = 0; i < size; ++i) first_[i + 1] += first_[i];
    in_.resize(first_.back());
    std::vector<std::size_t> next(first_.begin(), first_.end() - 1);
    for (std::size_t s = 0; s < sets.size(); ++s) {
      for (const int e : sets[s].of) in_[next[index_of(e)]++] = s;
    }
  }
  [[nodiscard]] std::size_t size() const { return bits_.size(); }
  [[nodiscard]] std::size_t index_of(int e) const { return index_[at(e)]; }
  /// Ascending.
  [[nodiscard]] std::span<const std::size_t> sets_with(std::size_t i) const {
    return {in_.data() + first_[i], first_[i + 1] - first_[i]};
  }
  /// One bit for each set that it is in, many to a bit.
  [[nodiscard]] std::uint64_t bits(std::size_t i) const { return bits_[i]; }
  /// Picking `i` makes other sets count.
  [[nodiscard]] bool asks_for_more(std::size_t i) const { return asks_[i] != 0; }

 private:
  std::vector<std::size_t> index_;  ///< per element; nothing of those that are in no set
  std::vector<std::size_t> first_;  ///< per index, into in_; and the end
  std::vector<std::size_t> in_;     ///< sets, by index
  std::vector<std::uint64_t> bits_;
  std::vector<char> asks_;
};

/// Whoever picks `e` may as well pick `other`. Of two that can stand for each other the earlier one stays.
bool stands_for(const Elements& elements, std::size_t other, std::size_t e) {
  if (other == e || elements.asks_for_more(other)) return false;
  if ((elements.bits(e) & ~elements.bits(other)) != 0) return false;
  const auto mine = elements.sets_with(e), its = elements.sets_with(other);
  if (its.size() < mine.size() || !std::includes(its.begin(), its.end(), mine.begin(), mine.end())) return false;
  return its.size() > mine.size() || elements.asks_for_more(e) || other < e;
}

/// Per element: nothing is lost when it is never picked.
std::vector<char> dispensable(const std::vector<SetToMeet>& sets, const Elements& elements) {
  std::vector<char> gone(elements.size(), 0);
  for (std::size_t e = 0; e < elements.size(); ++e) {
    const auto in = elements.sets_with(e);
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
  std::vector<char> is_picked(at(largest_of(sets) + 1), 0);
  for (std::size_t i = before; i < forced.size(); ++i) is_picked[at(forced[i])] = 1;
  std::sort(forced.begin(), forced.end());
  const auto picked = [&](int e) { return is_picked[at(e)] != 0; };
  std::erase_if(sets, [&](const SetToMeet& set) { return std::any_of(set.of.begin(), set.of.end(), picked); });
  for (SetToMeet& set : sets) {
    if (set.once != SetToMeet::kAlways && picked(set.once)) set.once = SetToMeet::kAlways;
  }
  return true;
}

std::vector<std::vector<SetToMeet>> cut(std::vector<SetToMeet> sets) {
  DisjointSets together(at(largest_of(sets) + 1));
  for (const SetToMeet& set : sets) {
    for (const int e : set.of) together.join(set.of.front(), e);
    if (set.once != SetToMeet::kAlways) together.join(set.of.front(), set.once);
  }
  std::vector<std::vector<SetToMeet>> parts;
  std::vector<int> part_of(at(largest_of(sets) + 1), model::kNone);
  for (SetToMeet& set : sets) {
    int& part = part_of[at(together.find(set.of.front()))];
    if (part == model::kNone) {
      part = static_cast<int>(parts.size());
      parts.emplace_back();
    }
    parts[at(part)].push_back(std::move(set));
  }
  std::stable_sort(parts.begin(), parts.end(), [](const auto& a, const auto& b) { return a.size() < b.size(); });
  return parts;
}

}  // namespace

std::vector<SetToMeet> without_implied(std::vector<SetToMeet> sets) {
  std::stable_sort(sets.begin(), sets.end(), [](const SetToMeet& a, const SetToMeet& b) {
    return std::pair(a.of.size(), a.once != SetToMeet::kAlways) < std::pair(b.of.size(), b.once != SetToMeet::kAlways);
  });
  if (!sets.empty() && sets.front().of.empty()) return {sets.front()};  // nothing is part of everything
  // What is part of a set begins with one of its elements.
  constexpr std::size_t kEnd = static_cast<std::size_t>(-1);
  std::vector<std::size_t> begins_with(at(largest_of(sets) + 1), kEnd), next;
  std::vector<SetToMeet> kept;
  std::vector<std::uint64_t> bits;
  kept.reserve(sets.size());
  const auto is_implied = [&](const SetToMeet& set, std::uint64_t own) {
    if (std::binary_search(set.of.begin(), set.of.end(), set.once)) return true;
    for (const int e : set.of) {
      for (std::size_t k = begins_with[at(e)]; k != kEnd; k = next[k]) {
        if ((bits[k] & ~own) == 0 && (kept[k].once == SetToMeet::kAlways || kept[k].once == set.once) &&
            std::includes(set.of.begin(), set.of.end(), kept[k].of.begin(), kept[k].of.end())) {
          return true;
        }
      }
    }
    return false;
  };
  for (SetToMeet& set : sets) {
    const std::uint64_t own = bits_of(set.of);
    if (is_implied(set, own)) continue;
    next.push_back(std::exchange(begins_with[at(set.of.front())], kept.size()));
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
