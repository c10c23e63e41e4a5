#pragma once
/// Parts put on and taken off in the text of a frame file, all else left as it was written: comments, order, spacing.
/// The result is the whole text, to be read by read_frame. All throw std::invalid_argument when the text is no YAML or
/// has no such run or part. O(length of the text).
#include <string>
#include <string_view>

namespace dryfit::model {

/// One more part behind the last one of a run. `value` is written as the file holds it: "coupling", "{pipe: 12}".
[[nodiscard]] std::string with_part_behind(std::string_view text, const std::string& run, const std::string& id,
                                           const std::string& value);

/// A new run with one part, behind all others. `from` is a port, a pipe's end or a surface; `at`, a list such as
/// "[0, 0]", is left out when it is empty.
[[nodiscard]] std::string with_run(std::string_view text, const std::string& run, const std::string& from,
                                   const std::string& at, const std::string& id, const std::string& value);

/// Without the last part of a run; with its only part the run goes too. Throws for a part that others stand behind.
[[nodiscard]] std::string without_last_part(std::string_view text, const std::string& id);

}  // namespace dryfit::model
