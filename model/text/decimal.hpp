#pragma once
/// Numbers as text has them, read the same on every machine and in every locale.
#include <optional>
#include <string_view>

namespace dryfit::model {

/// The whole of the text as a number: "12", "-0.5", ".5", "1e3". Nothing for anything else, for what is too large or
/// too small for a double, and for words ("inf", "nan"). The nearest double, ties to even.
[[nodiscard]] std::optional<double> decimal_number(std::string_view text);

}  // namespace dryfit::model
