#include "cli/words/rounded_up.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/words/lengths.hpp"
#include "model/text/length.hpp"

namespace dryfit::cli {

std::string rounded_up_text(double mm, model::Units units) {
  constexpr double kNoise = 1e-6;  // what is a whole number but for the arithmetic stays as it is
  const auto up_to = [mm](double part) { return std::ceil(mm / part - kNoise) * part; };
  const double inches = up_to(model::kMmPerInch / 16.0), metric = up_to(1.0);
  switch (Lengths(units).show()) {
    case Lengths::Show::inches: return length_text(inches, units);
    case Lengths::Show::metric: return length_text(metric, units);
    case Lengths::Show::both: break;
  }
  return fmt::format("{} ({})", inch_text(inches), metric_text(metric, units));
}

}  // namespace dryfit::cli
