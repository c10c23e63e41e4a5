#pragma once
/// Length phrases of builders: "4-1/2", "4 1/2", "3/4", "114 mm", "9.5 in", "11 cm"; and back to shop fractions.
#include <optional>
#include <string>
#include <string_view>

#include "model/frame/frame.hpp"

namespace dryfit::model {

inline constexpr double kMmPerInch = 25.4;

/// Parses one length phrase; a bare number is in `units`. The result is in mm and finite, and may be zero or
/// negative: positions may be, the caller of a true length refuses it. nullopt with `why` (what is wrong, what is
/// expected) when it is no length: nan, inf, hex, octal-looking ("010"), trailing text, zero denominator.
[[nodiscard]] std::optional<double> parse_length(std::string_view text, Units units, std::string* why = nullptr);

/// Millimetres as inches in shop fractions to 1/32: "47-3/4 in", "3/4 in", "0 in", "-1/16 in".
[[nodiscard]] std::string inches(double mm);
/// "1212.9 mm" with one decimal, trailing ".0" dropped.
[[nodiscard]] std::string millimetres(double mm);
/// In the frame's own units: inches() for in, millimetres() for mm, "11.4 cm" for cm.
[[nodiscard]] std::string in_units(double mm, Units units);
/// The same, inches to 1/64; `up`: never less than it is, for what has to be more than that.
[[nodiscard]] std::string fine_in_units(double mm, Units units, bool up = false);

}  // namespace dryfit::model
