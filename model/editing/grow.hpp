#pragma once
/// Parts put on in the text of a frame file, all else left as it was written: comments, order, spacing. The result is
/// the whole text, to be read by read_frame. All throw std::invalid_argument when the text is no YAML or has no such
/// run or part. O(length of the text).
#include <string>
#include <string_view>
#include <vector>

namespace dryfit::model {

/// `value` is written as the file holds it: "coupling", "{pipe: 12}".
struct NewPart {
  std::string id, value;
};

/// The first lines of a file that has none yet; comments may stand there. `units`, `standard` and `size` are words of
/// the file. Throws when something else is written there.
[[nodiscard]] std::string with_head(std::string_view text, const std::string& name, const std::string& units,
                                    const std::string& standard, const std::string& size);

/// One more surface: the side it faces, and its coordinate as the file holds it.
[[nodiscard]] std::string with_surface(std::string_view text, const std::string& id, const std::string& normal,
                                       const std::string& at);

/// One more part behind the last one of a run.
[[nodiscard]] std::string with_part_behind(std::string_view text, const std::string& run, const NewPart& part);
/// Parts in a run, behind the one named.
[[nodiscard]] std::string with_parts_behind(std::string_view text, const std::string& part,
                                            const std::vector<NewPart>& more);

/// A new run, behind all others. `from` is a port, a pipe's end or a surface; `go`, `at` (a list such as "[0, 0]") and
/// `to` are left out when they are empty.
struct NewRun {
  std::string id, from, go, at;
  std::vector<NewPart> parts;
  std::string to;
};
[[nodiscard]] std::string with_run(std::string_view text, const NewRun& run);

/// What a run ends on: "T2.left", "floor". Throws when it ends on something already.
[[nodiscard]] std::string with_run_ended(std::string_view text, const std::string& run, const std::string& to);
/// A link of a run taken out, or a coordinate: `key` is "to", "at" or "go".
[[nodiscard]] std::string with_run_key_out(std::string_view text, const std::string& run, const std::string& key);
/// Where a run stands on its surface, which it does not say yet.
[[nodiscard]] std::string with_run_at(std::string_view text, const std::string& run, const std::string& at);

/// A pipe in two, with a fitting between, bytes kept: the first piece has the pipe's name. What stood behind the pipe
/// follows the second piece; `on_second` are boards drilled for that one from now on, slotted round it or strapped to
/// it.
struct Insertion {
  std::string pipe, first;  ///< its new length, as the file holds it
  NewPart fitting, second;
  std::vector<std::string> on_second;
};
[[nodiscard]] std::string with_insertion(std::string_view text, const Insertion& insertion);

/// One more board: keys and values in order, as the file holds them.
[[nodiscard]] std::string with_board(std::string_view text, const std::string& id,
                                     const std::vector<std::pair<std::string, std::string>>& keys);

}  // namespace dryfit::model
