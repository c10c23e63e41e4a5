#pragma once
/// Numbers, tones and text as SVG has them.
#include <string>

#include "cli/draw/paint/look.hpp"

namespace dryfit::cli {

/// At most `decimals` (0 to 9), no zeros at the end, never "-0".
[[nodiscard]] std::string short_number(double value, int decimals);
/// "#ebedf0".
[[nodiscard]] std::string hex_of(look::Tone tone);
/// What XML cannot hold at all becomes a question mark.
[[nodiscard]] std::string xml_text(const std::string& text);

}  // namespace dryfit::cli
