#pragma once
/// Words that people use for a word of the format.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/frame/message.hpp"

namespace dryfit::model {

/// The candidate that `word` is another name of, in English or German: a "nipple" is a pipe, a board that one wants to
/// "screw" is told `fix`, "bsp" is iso7. Case, a plural's s and what joins two words do not matter.
[[nodiscard]] std::optional<std::string> meant_by(std::string_view word, const std::vector<std::string>& candidates);

/// "; did you mean 'tee'?" or "": by meaning first, then by spelling.
[[nodiscard]] Message did_you_mean_one_of(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace dryfit::model
