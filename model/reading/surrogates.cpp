#include "model/reading/surrogates.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cstdint>
#include <optional>
#include <string_view>

namespace dryfit::model {
namespace {

/// The value of "\uNNNN" at `at`.
std::optional<std::uint32_t> escape_at(std::string_view text, std::size_t at) {
  constexpr std::size_t kLength = 6;
  if (at + kLength > text.size() || text[at] != '\\' || text[at + 1] != 'u') return std::nullopt;
  std::uint32_t code = 0;
  const char* end = text.data() + at + kLength;
  const auto [stop, error] = std::from_chars(text.data() + at + 2, end, code, 16);
  if (error != std::errc() || stop != end) return std::nullopt;
  return code;
}

/// The character whose two halves stand at `at`.
std::optional<std::uint32_t> pair_at(std::string_view text, std::size_t at) {
  const auto high = escape_at(text, at);
  if (!high || *high < 0xd800 || *high > 0xdbff) return std::nullopt;
  const auto low = escape_at(text, at + 6);
  if (!low || *low < 0xdc00 || *low > 0xdfff) return std::nullopt;
  return 0x10000 + ((*high - 0xd800) << 10U) + (*low - 0xdc00);
}

/// A quote opens a text only where a value can begin.
bool value_begins_after(char before) { return std::string_view(" \t\n[{,:").find(before) != std::string_view::npos; }

}  // namespace

std::string with_joined_pairs(std::string text) {
  // Hardly any file has one.
  if (text.find("\\ud") == std::string::npos && text.find("\\uD") == std::string::npos) return text;
  std::string out;
  out.reserve(text.size());
  char quote = 0;
  bool comment = false;
  std::size_t owed = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool starts = i == 0 || value_begins_after(text[i - 1]);
    if (quote == '"' && c == '\\') {
      if (const auto code = pair_at(text, i)) {
        out += fmt::format("\\U{:08x}", *code);
        owed += 2;
        i += 11;
      } else {
        out += c;
        if (i + 1 < text.size()) out += text[++i];
      }
      continue;
    }
    out += c;
    if (comment) {
      comment = c != '\n';
    } else if (quote == 0) {
      if (starts && (c == '"' || c == '\'')) quote = c;
      comment = starts && c == '#';
    } else if (c == quote) {  // '' within single quotes closes and, for all that matters here, opens again
      if (quote == '\'' && i + 1 < text.size() && text[i + 1] == '\'') {
        out += text[++i];
      } else {
        quote = 0;
        out.append(owed, ' ');
        owed = 0;
      }
    } else if (c == '\n') {
      owed = 0;  // the columns of another line
    }
  }
  return out;
}

}  // namespace dryfit::model
