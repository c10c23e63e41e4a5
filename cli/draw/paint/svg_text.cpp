#include "cli/draw/paint/svg_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/words/html_text.hpp"

namespace dryfit::cli {

std::string short_number(double value, int decimals) {
  std::string out = fmt::format("{:.{}f}", value, decimals);
  if (decimals == 0) return out == "-0" ? "0" : out;
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out == "-0" ? "0" : out;
}

std::string hex_of(look::Tone tone) {
  const auto part = [](double share) { return static_cast<int>(std::lround(255.0 * share)); };
  return fmt::format("#{:02x}{:02x}{:02x}", part(tone.red), part(tone.green), part(tone.blue));
}

std::string xml_text(const std::string& text) {
  std::string out = text;
  for (char& c : out) {
    if (static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n') c = '?';
  }
  return escaped(out);
}

}  // namespace dryfit::cli
