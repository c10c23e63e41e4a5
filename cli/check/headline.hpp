#pragma once
/// The verdict on a frame in one word and in one sentence.
#include <string>

#include "cli/check/finding.hpp"

namespace dryfit::cli {

/// "buildable", "open", "locked" or "overlapping": a frame that could be built but does not close is "open".
[[nodiscard]] std::string word_for(const Finding& finding);
/// ExitCode of that word.
[[nodiscard]] int code_of(const Finding& finding);

/// "Pot rail: closes exactly, and can be built in at most 13 steps."
[[nodiscard]] std::string headline(const model::Frame& frame, const Finding& finding);

}  // namespace dryfit::cli
