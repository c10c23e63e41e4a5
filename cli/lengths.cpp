#include "cli/lengths.hpp"

#include <fmt/format.h>

#include <CLI/App.hpp>
#include <CLI/Validators.hpp>

#include "model/length.hpp"

namespace dryfit::cli {
namespace {

Lengths::Show shown(const std::string& asked, model::Units units) {
  if (asked == "both") return Lengths::Show::both;
  if (asked == "in" || (asked.empty() && units == model::Units::in)) return Lengths::Show::inches;
  return Lengths::Show::metric;
}

std::string trimmed(std::string number) {
  number.erase(number.find_last_not_of('0') + 1);
  if (number.back() == '.') number.pop_back();
  return number == "-0" ? "0" : number;
}

}  // namespace

Lengths::Lengths(const std::string& asked, model::Units units)
    : show_(shown(asked, units)), units_(units == model::Units::cm ? units : model::Units::mm) {}

std::string Lengths::operator()(double mm) const {
  switch (show_) {
    case Show::inches: return model::inches(mm);
    case Show::metric: return model::in_units(mm, units_);
    case Show::both: break;
  }
  return fmt::format("{} ({})", model::inches(mm), model::in_units(mm, units_));
}

std::string Lengths::fine(double mm) const {
  const std::string inch = trimmed(fmt::format("{:.3f}", mm / model::kMmPerInch)) + " in";
  const std::string metric = trimmed(fmt::format("{:.1f}", mm)) + " mm";
  switch (show_) {
    case Show::inches: return inch;
    case Show::metric: return metric;
    case Show::both: break;
  }
  return fmt::format("{} ({})", inch, metric);
}

void add_units_option(CLI::App& app, std::string& units) {
  app.add_option("--units", units, "lengths in in, mm or both; as in the frame file when not given")
      ->check(CLI::IsMember({"in", "mm", "both"}));
}

}  // namespace dryfit::cli
