#include "cli/words/lengths.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <numeric>

#include "cli/words/say.hpp"
#include "model/text/length.hpp"

namespace dryfit::cli {
namespace {

Lengths::Show shown(const std::string& asked, model::Units units) {
  if (asked == "both") return Lengths::Show::both;
  if (asked == "in" || (asked.empty() && units == model::Units::in)) return Lengths::Show::inches;
  return Lengths::Show::metric;
}

/// "8" of "8.000", whatever the mark between ones and tenths is.
std::string trimmed(std::string number) {
  const std::size_t mark = number.find_first_not_of("-0123456789");
  if (mark == std::string::npos) return number;
  const std::size_t last = number.find_last_not_of('0');
  number.erase(last > mark ? last + 1 : mark);
  return number == "-0" ? "0" : number;
}

/// Inches as a rule shows them, "4-1/2", to the nearest of so many parts.
std::string fraction(double mm, long long parts) {
  constexpr double kFarthest = 1e12;  // beyond, the parts are finer than a double
  const double inches = mm / model::kMmPerInch;
  if (!(std::abs(inches) < kFarthest)) return decimal(inches, 1);
  const long long all = std::llround(inches * static_cast<double>(parts));
  const long long whole = std::llabs(all) / parts, left = std::llabs(all) % parts;
  const char* minus = all < 0 ? "-" : "";
  if (left == 0) return fmt::format("{}{}", minus, whole);
  const long long shared = std::gcd(left, parts);
  if (whole == 0) return fmt::format("{}{}/{}", minus, left / shared, parts / shared);
  return fmt::format("{}{}-{}/{}", minus, whole, left / shared, parts / shared);
}

/// "about 1/64 in", "just over 1/64 in": no rule shows more of what is smaller than its lines are apart.
std::string about_inch_text(double mm) {
  constexpr double kParts = 64.0;
  // The half millimetre that a part needs to go through is 1.26/64 in: told "just over", what is less is not.
  constexpr double kNear = 0.259;
  const double parts = mm / model::kMmPerInch * kParts, nearest = std::round(parts);
  const std::string mark = say("{} in", fraction(nearest * model::kMmPerInch / kParts, 64));
  if (parts < 1.0 - kNear) return say("under {}", say("{} in", "1/64"));
  if (std::abs(parts - nearest) <= kNear) return say("about {}", mark);
  return parts > nearest ? say("just over {}", mark) : say("just under {}", mark);
}

std::string& asked_now() {
  static std::string asked;
  return asked;
}

}  // namespace

Lengths::Lengths(model::Units units)
    : show_(shown(asked_now(), units)), units_(units == model::Units::cm ? units : model::Units::mm) {}

std::string Lengths::operator()(double mm) const {
  switch (show_) {
    case Show::inches: return inch_text(mm);
    case Show::metric: return metric_text(mm, units_);
    case Show::both: break;
  }
  return fmt::format("{} ({})", inch_text(mm), metric_text(mm, units_));
}

std::string Lengths::fine(double mm) const {
  switch (show_) {
    case Show::inches: return fine_inch_text(mm);
    case Show::metric: return fine_metric_text(mm);
    case Show::both: break;
  }
  return fmt::format("{} ({})", fine_inch_text(mm), fine_metric_text(mm));
}

std::string Lengths::play(double mm) const {
  const std::string inches = about_inch_text(mm);
  switch (show_) {
    case Show::inches: return inches;
    case Show::metric: return fine_metric_text(mm);
    case Show::both: break;
  }
  return fmt::format("{} ({})", inches, fine_metric_text(mm));
}

std::string Lengths::slope(double mm_per_m) const {
  const std::string inch = say("{} per ft", fine_inch_text(mm_per_m * 0.3048));  // a foot is 0.3048 m, exact
  const std::string metric = say("{} mm per m", decimal(mm_per_m, 1));
  switch (show_) {
    case Show::inches: return inch;
    case Show::metric: return metric;
    case Show::both: break;
  }
  return fmt::format("{} ({})", inch, metric);
}

std::string Lengths::rounded_up(double mm) const {
  constexpr double kNoise = 1e-6;  // what is a whole number but for the arithmetic stays as it is
  const auto up_to = [mm](double part) { return std::ceil(mm / part - kNoise) * part; };
  const std::string inches = inch_text(up_to(model::kMmPerInch / 16.0)), metric = metric_text(up_to(1.0), units_);
  switch (show_) {
    case Show::inches: return inches;
    case Show::metric: return metric;
    case Show::both: break;
  }
  return fmt::format("{} ({})", inches, metric);
}

void show_lengths_in(const std::string& asked) { asked_now() = asked; }
const std::string& lengths_asked() { return asked_now(); }

std::string length_text(double mm, model::Units units) { return Lengths(units)(mm); }
std::string rounded_up_text(double mm, model::Units units) { return Lengths(units).rounded_up(mm); }

std::string inch_text(double mm) {
  constexpr long long kParts = 32;  // the finest that a tape or a combination square is read to
  return say("{} in", fraction(mm, kParts));
}

std::string metric_text(double mm, model::Units units) {
  if (units == model::Units::cm) return trimmed(decimal(mm / 10.0, 1)) + " cm";
  return trimmed(decimal(mm, 1)) + " mm";
}

std::string hair_text(model::Units units) { return Lengths(units).fine(model::kMmPerInch / 64.0); }

std::string fine_inch_text(double mm) {
  constexpr long long kParts = 64;
  constexpr double kNothing = 1e-3;  // mm
  const std::string number = fraction(mm, kParts);
  return number == "0" && std::abs(mm) > kNothing ? say("less than {} in", "1/64") : say("{} in", number);
}

std::string fine_metric_text(double mm, bool trim) {
  const std::string number = decimal(mm, 1);
  return (trim ? trimmed(number) : number) + " mm";
}

}  // namespace dryfit::cli
