#pragma once
/// The cures that `check` names, made in the text of a frame file.
#include <string>

#include "cli/edit/ends.hpp"

namespace dryfit::cli {

/// `given` is a change as `check --json` names it under `edit` (planner/cure/cure_named.hpp): "notch S1 back P3 P8",
/// "flange P4 end floor"; or "let-go rail": that run's `at` is taken out, and another run places it. All that does not
/// change keeps its bytes; parts that come on get names as others do. Throws UsageError or std::invalid_argument.
[[nodiscard]] EditMade cure_made(const std::string& text, const std::string& name, const std::string& given);

}  // namespace dryfit::cli
