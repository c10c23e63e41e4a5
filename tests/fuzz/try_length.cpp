#include <fmt/format.h>

#include <cmath>

#include "model/text/length.hpp"
#include "tests/fuzz/targets.hpp"

namespace dryfit::fuzz {

std::string try_length(std::string_view bytes) {
  using model::Units;
  if (bytes.empty()) return {};
  constexpr Units kUnits[] = {Units::in, Units::mm, Units::cm};
  const Units units = kUnits[static_cast<unsigned char>(bytes.front()) % 3U];
  const std::string phrase(bytes.substr(1));
  std::string why;
  const auto mm = model::parse_length(phrase, units, &why);
  if (mm.has_value() == !why.empty()) return "a length and a complaint about it, or neither";
  if (model::parse_length("  " + phrase + "\t", units) != mm) return "blanks around the phrase change it";
  if (!mm) return {};
  if (!std::isfinite(*mm)) return "a length that is not finite";
  const bool negative = phrase.find('-') == phrase.find_first_not_of(" \t") && phrase.find('-') != std::string::npos;
  if (!negative) {
    const auto less = model::parse_length("-" + phrase.substr(phrase.find_first_not_of(" \t")), units);
    if (!less || *less != -*mm) return "a minus before the phrase does not turn its sign";
  }
  // Beyond, what is printed is finer than a double.
  if (std::abs(*mm) > 1e9) return {};
  constexpr double kSixteenth = model::kMmPerInch / 32.0 + 1e-6, kTenth = 0.05 + 1e-6;
  for (const Units shown : kUnits) {
    const std::string text = model::in_units(*mm, shown);
    const auto again = model::parse_length(text, units);
    const double doubt = shown == Units::in ? kSixteenth : shown == Units::mm ? kTenth : 10.0 * kTenth;
    if (!again || std::abs(*again - *mm) > doubt) return fmt::format("{} mm is printed as {}", *mm, text);
  }
  return {};
}

}  // namespace dryfit::fuzz
