#pragma once
/// Turns of phrase that many messages share.
#include <cstddef>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "model/text/meant.hpp"

namespace dryfit::model {

/// "; did you mean 'tee'?" or "".
template <class Words>
[[nodiscard]] std::string did_you_mean(std::string_view word, const Words& words) {
  std::vector<std::string> candidates;
  for (const auto& candidate : words) {
    if (!std::string_view(candidate).empty()) candidates.emplace_back(candidate);
  }
  return did_you_mean_one_of(word, candidates);
}

/// "a", "a or b", "a, b or c".
template <class Words>
[[nodiscard]] std::string one_of(const Words& words, std::string_view last = " or ") {
  std::string out;
  const std::size_t n = std::size(words);
  std::size_t i = 0;
  for (const auto& word : words) {
    if (i > 0) out += i + 1 == n ? last : std::string_view(", ");
    out += word;
    ++i;
  }
  return out;
}

}  // namespace dryfit::model
