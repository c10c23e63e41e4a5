#pragma once
/// The verdict on a frame in one word and in one sentence.
#include <string>

#include "cli/check/finding.hpp"

namespace dryfit::cli {

/// The finding's verdict, but for a frame that could be built and does not close, or in which a board has nothing to
/// lie on: that is open.
[[nodiscard]] Verdict verdict_of(const Finding& finding);
/// ExitCode of that verdict.
[[nodiscard]] int code_of(const Finding& finding);

/// "Pot rail: closes exactly, and can be built in at most 13 steps."
/// Why no order gets it in between floor and ceiling, by `missing` mm, and what helps.
[[nodiscard]] std::string no_way_in_text(const model::Frame& frame, double missing);
[[nodiscard]] std::string headline(const model::Frame& frame, const Finding& finding);

}  // namespace dryfit::cli
