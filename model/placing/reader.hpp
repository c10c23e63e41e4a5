#pragma once
/// From the text of a frame file to a placed frame.
#include <string>
#include <string_view>

#include "model/frame/frame.hpp"

namespace dryfit::model {

/// Reads, checks and places a frame. `file` is the name used in messages. Nothing is guessed.
/// Throws InputError with every fault of the text, sorted by position. O(n log n) in the length of the text.
[[nodiscard]] Frame read_frame(std::string_view text, const std::string& file);

}  // namespace dryfit::model
