#include "cli/words/lengths.hpp"

#include <fmt/format.h>

#include <string_view>

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

void show_lengths_in(const std::string& asked) { asked_now() = asked; }
const std::string& lengths_asked() { return asked_now(); }

std::string length_text(double mm, model::Units units) { return Lengths(units)(mm); }

std::string inch_text(double mm) {
  std::string number = model::inches(mm);  // shop fractions, with the unit behind them
  number.erase(number.size() - std::string_view(" in").size());
  return say("{} in", number);
}

std::string metric_text(double mm, model::Units units) {
  if (units == model::Units::cm) return trimmed(decimal(mm / 10.0, 1)) + " cm";
  return trimmed(decimal(mm, 1)) + " mm";
}

std::string fine_inch_text(double mm, bool trim) {
  const std::string number = decimal(mm / model::kMmPerInch, 3);
  return say("{} in", trim ? trimmed(number) : number);
}

std::string fine_metric_text(double mm, bool trim) {
  const std::string number = decimal(mm, 1);
  return (trim ? trimmed(number) : number) + " mm";
}

}  // namespace dryfit::cli
