#pragma once
/// Inches beside the millimetres of a JSON document, when they are asked for.
#include <string>

#include "cli/json/json_answer.hpp"

namespace dryfit::cli {

/// With `asked` (the value of --units) "in" or "both" every field `X_mm` is followed by `X_in`, decimal inches to four
/// places, and `X_fraction_in`, the same as a shop fraction to 1/32 ("47-3/4"). Lists of lengths give lists; null gives
/// null. Slopes `X_mm_per_m` are followed by `X_in_per_ft`. A field that is there already is left alone.
/// Otherwise the document as it is. O(size of the document).
[[nodiscard]] Json with_inches(const Json& document, const std::string& asked);

}  // namespace dryfit::cli
