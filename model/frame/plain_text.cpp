#include "model/frame/plain_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>

namespace dryfit::model {
namespace {

/// One character of a text; size 0: the byte there begins none.
struct Character {
  std::uint32_t code = 0;
  std::size_t size = 0;
};

/// Table 3-7 of The Unicode Standard, "Well-Formed UTF-8 Byte Sequences": no surrogates, nothing longer than needed.
Character character_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(text[at + k]); };
  const unsigned first = byte(0);
  if (first < 0x80) return {first, 1};
  const std::size_t size = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
  if (first < 0xc2 || first > 0xf4 || at + size > text.size()) return {};
  std::uint32_t code = first & (0xffU >> (size + 1));
  for (std::size_t k = 1; k < size; ++k) {
    if ((byte(k) & 0xc0U) != 0x80U) return {};
    code = code << 6U | (byte(k) & 0x3fU);
  }
  const bool surrogate = code >= 0xd800 && code <= 0xdfff;
  const std::uint32_t least = size == 4 ? 0x10000 : size == 3 ? 0x800 : 0x80;
  if (surrogate || code < least || code > 0x10ffff) return {};
  return {code, size};
}

bool turns_writing(std::uint32_t code) {
  return code == 0x61c || code == 0x200e || code == 0x200f || (code >= 0x202a && code <= 0x202e) ||
         (code >= 0x2066 && code <= 0x2069);
}

bool no_character(std::uint32_t code) { return (code & 0xfffeU) == 0xfffe || (code >= 0xfdd0 && code <= 0xfdef); }

/// Why a character may not stand in a text, or nothing.
Message why_unfit(std::uint32_t code, bool one_line) {
  if (code < 0x20 || (code >= 0x7f && code < 0xa0)) {
    if (code == '\t' || code == '\n' || code == '\r')
      return one_line ? message("a tab or the end of a line within it") : Message();
    return message("control character {}, expected plain text", fmt::format("0x{:02x}", code));
  }
  if (code < 0x61c) return {};
  const std::string name = fmt::format("U+{:04X}", code);
  if (turns_writing(code)) return message("{} turns the direction of writing, expected plain text", name);
  if (code == 0x2028 || code == 0x2029) return message("{} is a separator of lines, expected plain text", name);
  if (code == 0xfeff) return message("a byte order mark (U+FEFF), expected none behind the beginning");
  if (no_character(code)) return message("{} is no character, expected plain text", name);
  return {};
}

std::optional<Unfit> search(std::string_view text, bool one_line) {
  for (std::size_t at = 0; at < text.size();) {
    const auto byte = static_cast<unsigned char>(text[at]);
    if (byte >= 0x20 && byte < 0x7f) {
      ++at;
      continue;
    }
    const Character next = character_at(text, at);
    if (next.size == 0) return Unfit{at, message("byte {} is not UTF-8 text", fmt::format("0x{:02x}", byte))};
    if (Message why = why_unfit(next.code, one_line); !why.empty()) return Unfit{at, std::move(why)};
    at += next.size;
  }
  return std::nullopt;
}

/// Adds the character at `at` in a form that any screen can show; returns the byte behind it.
std::size_t add_escaped(std::string_view text, std::size_t at, bool one_line, std::string& out) {
  const Character next = character_at(text, at);
  if (next.size == 0) {
    out += fmt::format("\\x{:02x}", static_cast<unsigned char>(text[at]));
    return at + 1;
  }
  if (why_unfit(next.code, one_line).empty()) {
    out += text.substr(at, next.size);
  } else {
    out += next.code < 0x80 ? fmt::format("\\x{:02x}", next.code) : fmt::format("\\u{{{:04X}}}", next.code);
  }
  return at + next.size;
}

}  // namespace

std::optional<Unfit> first_unfit(std::string_view text) { return search(text, false); }

std::optional<Unfit> first_unfit_in_line(std::string_view text) { return search(text, true); }

std::string shown(std::string_view text) {
  std::string out;
  std::size_t at = 0;
  for (std::size_t count = 0; at < text.size() && count < kMostShown; ++count) at = add_escaped(text, at, true, out);
  return at < text.size() ? out + "..." : out;
}

std::string escaped(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) at = add_escaped(text, at, false, out);
  return out;
}

std::string with_plain_lines(std::string text) {
  if (text.starts_with("\xef\xbb\xbf")) text.erase(0, 3);
  if (text.find('\r') == std::string::npos) return text;
  std::size_t to = 0;
  for (std::size_t from = 0; from < text.size(); ++from) {
    const bool old = text[from] == '\r';
    text[to++] = old ? '\n' : text[from];
    if (old && from + 1 < text.size() && text[from + 1] == '\n') ++from;
  }
  text.resize(to);
  return text;
}

SourcePos place_of(std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const std::size_t last = before.rfind('\n');
  const std::string_view line = last == std::string_view::npos ? before : before.substr(last + 1);
  const auto begins = [](char c) { return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U; };
  return {static_cast<int>(std::count(before.begin(), before.end(), '\n')) + 1,
          static_cast<int>(std::count_if(line.begin(), line.end(), begins)) + 1};
}

}  // namespace dryfit::model
