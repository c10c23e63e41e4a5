#include "model/text/nearest.hpp"

#include <algorithm>
#include <limits>

namespace dryfit::model {
namespace {

/// ASCII only: ids and words of the format are, and the global locale must not change the answer.
char lowered(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

int edit_distance(std::string_view a, std::string_view b) {
  const std::size_t columns = b.size() + 1;
  // Three rows are enough: the row being filled, the one above, and the one above that for swaps.
  std::vector<int> before_last(columns), last(columns), row(columns);
  for (std::size_t j = 0; j < columns; ++j) last[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j < columns; ++j) {
      const bool same = lowered(a[i - 1]) == lowered(b[j - 1]);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1)});
      if (i > 1 && j > 1 && lowered(a[i - 1]) == lowered(b[j - 2]) && lowered(a[i - 2]) == lowered(b[j - 1])) {
        row[j] = std::min(row[j], before_last[j - 2] + 1);
      }
    }
    std::swap(before_last, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
  // Longer than any word worth a suggestion; keeps hostile input cheap.
  constexpr std::size_t kLongestWord = 64;
  if (word.empty() || word.size() > kLongestWord) return std::nullopt;
  int best = std::numeric_limits<int>::max();
  const std::string* found = nullptr;
  for (const std::string& candidate : candidates) {
    if (candidate.size() > kLongestWord) continue;
    const int distance = edit_distance(word, candidate);
    if (distance < best) {
      best = distance;
      found = &candidate;
    }
  }
  if (found == nullptr) return std::nullopt;
  const auto longest = static_cast<int>(std::max(word.size(), found->size()));
  if (best >= longest || best > 1 + longest / 3) return std::nullopt;
  return *found;
}

}  // namespace dryfit::model
