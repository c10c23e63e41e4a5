#pragma once
/// One everyday change in the text of a frame file, all else left as it was written, comments too.
#include <string>
#include <string_view>

namespace dryfit::model {

/// Replaces one value: `target` is PART.length (a pipe's length), PART.size, or BOARD.KEY[.KEY] for a value that the
/// board has in the file ("S1.size.x", "S1.reach.left", "S1.height"). `value` is taken as the file would hold it ("24",
/// "4-1/2", "610 mm"). The result is the whole text, to be read by read_frame.
/// Throws std::invalid_argument with what was found and what was expected. O(length of the text).
[[nodiscard]] std::string with_value(std::string_view text, std::string_view target, std::string_view value);

}  // namespace dryfit::model
