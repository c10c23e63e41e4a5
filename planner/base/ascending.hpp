#pragma once
/// Sets of small numbers as sorted lists. Private to planner/.
#include <algorithm>
#include <bit>
#include <cstdint>
#include <vector>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

/// Sorts numbers from nought up and leaves each in once. Where they lie close together, as the contacts of one frame
/// do, a bit for each is quicker than comparing them: O(their number + the largest / 64).
inline void make_ascending(std::vector<int>& numbers) {
  constexpr int kBits = 64;
  if (numbers.size() < 2) return;
  const auto [low, high] = std::minmax_element(numbers.begin(), numbers.end());
  const int first = *low / kBits, last = *high / kBits;
  if (at(last - first) > numbers.size()) {
    std::sort(numbers.begin(), numbers.end());
    numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
    return;
  }
  thread_local std::vector<std::uint64_t> kept;  // all nought between two calls
  std::vector<std::uint64_t>& words = kept;
  if (words.size() <= at(last - first)) words.resize(at(last - first) + 1, 0);
  for (const int n : numbers) words[at(n / kBits - first)] |= std::uint64_t{1} << (n % kBits);
  numbers.clear();
  for (int w = first; w <= last; ++w) {
    for (std::uint64_t& word = words[at(w - first)]; word != 0; word &= word - 1) {
      numbers.push_back(w * kBits + std::countr_zero(word));
    }
  }
}

}  // namespace dryfit::planner
