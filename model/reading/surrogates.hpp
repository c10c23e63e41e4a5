#pragma once
/// A frame file may be JSON, which is YAML but for one thing: how it writes characters beyond U+FFFF.
#include <string>

namespace dryfit::model {

/// "\ud83d\ude00" within double quotes, two halves of one character, becomes the "\U0001f600" that YAML knows. The two
/// columns that this is shorter are given back as blanks behind the closing quote, so that places stay what they are.
/// Halves that stand alone are left for the reader to refuse. O(n).
[[nodiscard]] std::string with_joined_pairs(std::string text);

}  // namespace dryfit::model
