#include "model/standards/standards.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <stdexcept>

#include "model/geometry/at.hpp"
#include "model/standards/tables.hpp"
#include "model/text/length.hpp"

namespace dryfit::model {
namespace {

constexpr std::size_t kSizes = 12;
constexpr std::array<std::string_view, 51> kWords{"pipe-od",
                                                  "pipe-wall",
                                                  "pipe-mass",
                                                  "pitch",
                                                  "hand-engagement",
                                                  "wrench-engagement",
                                                  "useful-thread",
                                                  "centre-to-end",
                                                  "centre-to-end-45",
                                                  "side-outlet-centre-to-end",
                                                  "street-female",
                                                  "street-male",
                                                  "street45-female",
                                                  "street45-male",
                                                  "coupling-length",
                                                  "band",
                                                  "cap-height",
                                                  "union-length",
                                                  "flange-plate",
                                                  "flange-height",
                                                  "bushing-male",
                                                  "bushing-head",
                                                  "plug-male",
                                                  "plug-head",
                                                  "threads-per-inch",
                                                  "wrench-allowance",
                                                  "wrench-allowance-turns",
                                                  "vanish-thread",
                                                  "overall-thread",
                                                  "gauge-diameter",
                                                  "fitting-allowance",
                                                  "fitting-allowance-turns",
                                                  "pipe-od-max",
                                                  "pipe-od-min",
                                                  "band-width",
                                                  "thread-length",
                                                  "average-insertion",
                                                  "centre-to-pipe",
                                                  "centre-to-pipe-45",
                                                  "coupling-gap",
                                                  "union-gap",
                                                  "flange-plate-low",
                                                  "flange-plate-high",
                                                  "flange-screws",
                                                  "flange-screw-circle",
                                                  "foot-height",
                                                  "foot-plate",
                                                  "foot-mass",
                                                  "caster-height",
                                                  "caster-plate",
                                                  "caster-mass"};
static_assert(at(Dimension::caster_mass) + 1 == kWords.size());

constexpr std::array<const char*, 5> kConfidenceWords{"published", "secondary", "common practice", "derived", "memory"};

constexpr std::size_t number(Dimension which) { return at(which); }

using BySize = std::array<std::array<std::optional<Datum>, kWords.size()>, kSizes>;
using Values = std::array<BySize, 2>;

/// Millimetres, kg or counts from the unit as printed.
double in_own_units(double value, std::string_view unit) {
  constexpr double kKilogramsPerPound = 0.45359237;
  constexpr double kMetresPerFoot = 0.3048;
  if (unit == "in") return value * kMmPerInch;
  if (unit == "lb/ft") return value * kKilogramsPerPound / kMetresPerFoot;
  if (unit == "mm" || unit == "kg/m" || unit == "kg" || unit == "count") return value;
  throw std::logic_error(fmt::format("table: unknown unit '{}'", unit));
}

void add_rows(Values& values, std::string_view file) {
  const Table table = Table::built_in(file);
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const std::string_view word = table.at(row, "dimension");
    const auto which = std::find(kWords.begin(), kWords.end(), word);
    const std::optional<int> size = nominal_size(table.at(row, "size"));
    const std::optional<Confidence> confidence = confidence_named(table.at(row, "confidence"));
    const std::string_view standard = table.at(row, "standard");
    if (which == kWords.end() || !size || !confidence || (standard != "npt" && standard != "iso7")) {
      throw std::logic_error(fmt::format("{}: row {} has an unknown word", file, row + 1));
    }
    std::optional<Datum>& place = values[standard == "npt" ? 0 : 1][at(*size)][at(which - kWords.begin())];
    if (place) throw std::logic_error(fmt::format("{}: row {} says a second time what {} is", file, row + 1, word));
    place =
        Datum{in_own_units(table.number(row, "value"), table.at(row, "unit")), *confidence, table.at(row, "source")};
  }
}

Values read_all() {
  Values values;
  for (const char* file :
       {"threads.csv", "pipe.csv", "fittings.csv", "plugs_and_bushings.csv", "feet_and_casters.csv"}) {
    add_rows(values, file);
  }
  // ASME B1.20.1 defines the thread by its count per inch; the pitch follows exactly.
  for (auto& row : values[0]) {
    std::optional<Datum> pitch = row[number(Dimension::threads_per_inch)];
    if (!pitch) continue;
    pitch->value = kMmPerInch / pitch->value;
    row[number(Dimension::pitch)] = pitch;
  }
  return values;
}

}  // namespace

const char* word_for(Confidence confidence) { return kConfidenceWords.at(at(confidence)); }

std::optional<Confidence> confidence_named(std::string_view word) {
  for (std::size_t n = 0; n < kConfidenceWords.size(); ++n) {
    if (word == kConfidenceWords[n]) return static_cast<Confidence>(n);
  }
  return std::nullopt;
}

std::string_view word_for(Dimension dimension) { return kWords.at(number(dimension)); }

std::optional<Datum> dimension(Standard standard, int size, Dimension which) {
  static const Values kValues = read_all();
  if (size < 0 || at(size) >= kSizes) return std::nullopt;
  return kValues[standard == Standard::npt ? 0 : 1][at(size)][number(which)];
}

std::optional<int> nominal_size(std::string_view text) {
  const std::vector<std::string>& sizes = nominal_sizes();
  assert(sizes.size() == kSizes);
  std::string wanted(text);
  const std::size_t space = wanted.find(' ');
  if (space != std::string::npos) wanted[space] = '-';
  const auto found = std::find(sizes.begin(), sizes.end(), wanted);
  if (found == sizes.end()) return std::nullopt;
  return static_cast<int>(found - sizes.begin());
}

}  // namespace dryfit::model
