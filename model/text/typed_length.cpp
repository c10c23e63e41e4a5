#include "model/text/typed_length.hpp"

#include <fmt/format.h>

#include <cmath>

#include "model/text/length.hpp"

namespace dryfit::model {

std::string typed_length(double mm, Units units) {
  constexpr double kSame = 0.005;
  constexpr double kHundredths = 100.0;
  if (units == Units::in) {
    const std::string text = fine_in_units(mm, units);
    const auto back = parse_length(text, units);
    if (back && std::abs(*back - mm) < kSame) return text.substr(0, text.find(' '));
    return fmt::format("{} mm", std::round(mm * kHundredths) / kHundredths);
  }
  return fmt::format("{}", std::round(mm * kHundredths) / (units == Units::cm ? kHundredths * 10.0 : kHundredths));
}

}  // namespace dryfit::model
