#pragma once
/// One everyday change in the text of a frame file, all else left as it was written, comments too.
#include <string>
#include <string_view>

namespace dryfit::model {

/// Replaces one value: `target` is PART.length (a pipe's length, for which PART alone will do), PART.size,
/// BOARD.KEY[.KEY] ("S1.size.x", "S1.reach.left", "S1.height"), SURFACE.at, RUN.at, or what the file says of the whole:
/// "name", "units", "make-up", "driver", "pipe.size", "pipe.standard". `value` is taken as the file would hold it ("24",
/// "4-1/2", "610 mm"). A part's size, to-size, branch-size, plane and plain, a board's stock, fix, hole, strap, notch and
/// facing, and what is said of the whole are put in where they are not there. The result is the whole text, to be read
/// by read_frame. Throws std::invalid_argument with what was found and what was expected. O(length of the text).
[[nodiscard]] std::string with_value(std::string_view text, std::string_view target, std::string_view value);

/// The same for several owners at once, "P3+P8.length": each gets the value.
[[nodiscard]] std::string with_values(std::string_view text, std::string_view target, std::string_view value);

/// A part with another kind, all of its value replaced: "union", "{tee: left}".
[[nodiscard]] std::string with_part_swapped(std::string_view text, std::string_view id, const std::string& value);

/// Another name for a part, board or surface wherever the file speaks of it, or else for a run. Throws
/// std::invalid_argument when there is none of that name, or one of the new name already. O(length of the text).
[[nodiscard]] std::string with_name(std::string_view text, const std::string& was, const std::string& now);

}  // namespace dryfit::model
