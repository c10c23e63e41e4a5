#pragma once
/// The price of a change by step, as a chart of its own.
#include <string>

#include "cli/change/change_answer.hpp"
#include "cli/draw/paint/surface.hpp"

namespace dryfit::cli {

/// The bytes of the file; its format goes by the ending of `path`. The answer has a curve. Throws DrawError.
[[nodiscard]] std::string change_chart(const ChangeAnswer& answer, const std::string& path);

}  // namespace dryfit::cli
