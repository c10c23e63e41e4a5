#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "model/standards/standards.hpp"
#include "model/standards/tables.hpp"
#include "model/text/length.hpp"

namespace dryfit::model {
namespace {

double length_at(const Table& table, std::size_t row, std::string_view column) {
  const std::string_view unit = table.at(row, "unit");
  if (unit != "in" && unit != "mm") throw std::logic_error(fmt::format("table: unknown unit '{}'", unit));
  return table.number(row, column) * (unit == "in" ? kMmPerInch : 1.0);
}

Confidence confidence_at(const Table& table, std::size_t row) {
  const std::optional<Confidence> confidence = confidence_named(table.at(row, "confidence"));
  if (!confidence) throw std::logic_error(fmt::format("table: unknown confidence in row {}", row + 1));
  return *confidence;
}

struct StockWord {
  std::string word;
  std::string_view material;
};

const std::vector<StockWord>& stock_words_and_materials() {
  static const std::vector<StockWord> kWords = [] {
    const Table table = Table::built_in("stock_words.csv");
    std::vector<StockWord> words;
    for (std::size_t row = 0; row < table.rows(); ++row) {
      words.push_back({std::string(table.at(row, "word")), table.at(row, "material")});
    }
    std::sort(words.begin(), words.end(), [](const StockWord& a, const StockWord& b) { return a.word < b.word; });
    return words;
  }();
  return kWords;
}

/// A property of a wood in MPa, kg/m^3 or as a plain number; of a range its middle, which is then derived.
std::optional<Datum> wood_property(std::string_view stock, std::string_view property) {
  static const Table kWood = Table::built_in("wood.csv");
  const auto& words = stock_words_and_materials();
  const auto word = std::find_if(words.begin(), words.end(), [&](const StockWord& w) { return w.word == stock; });
  if (word == words.end()) return std::nullopt;
  for (std::size_t row = 0; row < kWood.rows(); ++row) {
    const std::string_view unit = kWood.at(row, "unit");
    if (kWood.at(row, "material") != word->material || kWood.at(row, "property") != property) continue;
    if (unit == "10^6 lb/in2") continue;  // the same fact again, in inch units
    Datum datum{0.0, confidence_at(kWood, row), kWood.at(row, "source")};
    if (kWood.at(row, "value").empty()) {
      datum.value = (kWood.number(row, "low") + kWood.number(row, "high")) / 2.0;
      datum.confidence = std::max(datum.confidence, Confidence::derived);
    } else {
      datum.value = kWood.number(row, "value");
    }
    if (unit == "GPa") datum.value *= 1000.0;
    return datum;
  }
  return std::nullopt;
}

std::vector<StockPipe> read_stock(std::string_view file) {
  const Table table = Table::built_in(file);
  std::vector<StockPipe> pipes;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const std::optional<int> size = nominal_size(table.at(row, "size"));
    if (!size) throw std::logic_error(fmt::format("{}: unknown size in row {}", file, row + 1));
    pipes.push_back({*size, std::string(table.at(row, "item")), length_at(table, row, "length"),
                     confidence_at(table, row), table.at(row, "source")});
  }
  std::stable_sort(pipes.begin(), pipes.end(), [](const StockPipe& a, const StockPipe& b) {
    return a.size != b.size ? a.size < b.size : a.length < b.length;
  });
  return pipes;
}

}  // namespace

const std::vector<StockPipe>& stock_pipes(Standard standard) {
  static const std::vector<StockPipe> kNpt = read_stock("stock.csv");
  static const std::vector<StockPipe> kIso7 = read_stock("stock_iso7.csv");
  return standard == Standard::npt ? kNpt : kIso7;
}

const std::vector<Bit>& bits() {
  static const std::vector<Bit> kBits = [] {
    const Table table = Table::built_in("bits.csv");
    std::vector<Bit> bits;
    for (std::size_t row = 0; row < table.rows(); ++row) {
      bits.push_back(
          {table.at(row, "series") == "inch", std::string(table.at(row, "label")), length_at(table, row, "diameter")});
    }
    return bits;
  }();
  return kBits;
}

std::optional<Datum> density(std::string_view stock) { return wood_property(stock, "density"); }

std::optional<Datum> modulus(std::string_view stock) { return wood_property(stock, "modulus"); }

const std::vector<std::string>& stock_words() {
  static const std::vector<std::string> kWords = [] {
    std::vector<std::string> words;
    for (const StockWord& word : stock_words_and_materials()) words.push_back(word.word);
    return words;
  }();
  return kWords;
}

namespace {

Datum lifting(std::string_view property, std::string_view unit) {
  const Table table = Table::built_in("lifting.csv");
  for (std::size_t row = 0; row < table.rows(); ++row) {
    if (table.at(row, "property") == property && table.at(row, "unit") == unit) {
      return {table.number(row, "value"), confidence_at(table, row), table.at(row, "source")};
    }
  }
  throw std::logic_error(fmt::format("lifting.csv: no {} in {}", property, unit));
}

}  // namespace

Datum lifting_limit() { return lifting("load-constant", "kg"); }

Datum hands_in_front() { return lifting("hands-in-front", "mm"); }

Datum farthest_held() { return lifting("farthest-held", "mm"); }

}  // namespace dryfit::model
