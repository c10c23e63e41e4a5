#pragma once
/// Parts taken off in the text of a frame file, all else left as it was written. The result is the whole text. All
/// throw std::invalid_argument when the text is no YAML or has no such part. O(length of the text) times the runs
/// and boards that come off.
#include <string>
#include <string_view>
#include <vector>

namespace dryfit::model {

/// Without the last part of a run; with its only part the run goes too. Throws for a part that others stand behind.
[[nodiscard]] std::string without_last_part(std::string_view text, const std::string& id);

struct TakenOff {
  std::string text;
  std::vector<std::string> off;  ///< parts and boards, in file order
};
/// Without a part or board and all that hangs on it: what stands behind it in its run, runs that begin there, boards
/// that are drilled for what goes or rest on it. Runs that end there end openly.
[[nodiscard]] TakenOff without_what_hangs_on(std::string_view text, const std::string& id);

}  // namespace dryfit::model
