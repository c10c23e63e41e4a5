#include "cli/draw/paint/letter_widths.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <unordered_map>

#include "model/standards/tables.hpp"

namespace dryfit::cli {

std::span<const model::BuiltInFile> letter_tables();  // letter_widths.csv: written by the build

namespace {

constexpr double kUnitsOfEm = 2048.0;
constexpr double kUsualWidth = 0.6;
constexpr char32_t kFirstWide = 0x2E80;  ///< from here on letters are mostly as wide as high

using Widths = std::unordered_map<char32_t, std::array<double, 2>>;

const Widths& widths() {
  static const Widths all = [] {
    Widths out;
    const model::Table table(letter_tables().front().text);
    for (std::size_t row = 0; row < table.rows(); ++row) {
      const auto ems = [&](const char* column) { return table.number(row, column) / kUnitsOfEm; };
      out[static_cast<char32_t>(table.number(row, "letter"))] = {ems("regular"), ems("bold")};
    }
    return out;
  }();
  return all;
}

/// The first letter of a text in UTF-8, which becomes shorter by it. What is no UTF-8 is taken byte by byte.
char32_t taken_letter(std::string_view& text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  const std::size_t length = first < 0x80 ? 1 : first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC0 ? 2 : 1;
  char32_t letter = length == 1 ? first : first & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length && i < text.size(); ++i) letter = (letter << 6U) | (byte(i) & 0x3FU);
  text.remove_prefix(std::min(length, text.size()));
  return letter;
}

}  // namespace

double letter_width(char32_t letter, bool bold) {
  const auto found = widths().find(letter);
  if (found != widths().end()) return found->second[bold ? 1 : 0];
  return letter >= kFirstWide && letter < 0x10000 ? 1.0 : kUsualWidth;
}

double width_of_letters(std::string_view text, bool bold) {
  double out = 0.0;
  while (!text.empty()) out += letter_width(taken_letter(text), bold);
  return out;
}

}  // namespace dryfit::cli
