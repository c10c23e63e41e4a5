#pragma once

#include <string>

namespace dryfit::tests {

/// The text on one line with single spaces, so that it does not matter where it was wrapped. O(length of the text).
[[nodiscard]] std::string on_one_line(std::string text);

}  // namespace dryfit::tests
