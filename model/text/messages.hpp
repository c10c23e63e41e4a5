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
[[nodiscard]] Message did_you_mean(std::string_view word, const Words& words) {
  std::vector<std::string> candidates;
  for (const auto& candidate : words) {
    if (!std::string_view(candidate).empty()) candidates.emplace_back(candidate);
  }
  return did_you_mean_one_of(word, candidates);
}

/// "a", "a or b", "a, b or c".
template <class Words>
[[nodiscard]] Message one_of(const Words& words) {
  std::string before;
  std::string_view last;
  for (const auto& word : words) {
    if (!last.empty()) before += (before.empty() ? "" : ", ") + std::string(last);
    last = word;
  }
  return before.empty() ? Message::as_it_is(std::string(last)) : message("{} or {}", before, last);
}

}  // namespace dryfit::model
