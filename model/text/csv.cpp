#include "model/text/csv.hpp"

#include <algorithm>

namespace dryfit::model {
namespace {

constexpr std::string_view kBlanks = " \t\r";

/// Where the quote that closes a field is; `begin` is behind the one that opens it.
std::size_t closing_quote(std::string_view line, std::size_t begin) {
  for (std::size_t at = line.find('"', begin); at != std::string_view::npos; at = line.find('"', at + 2)) {
    if (at + 1 == line.size() || line[at + 1] != '"') return at;
  }
  return std::string_view::npos;
}

}  // namespace

std::optional<std::vector<std::string_view>> csv_fields(std::string_view line, Message* why) {
  std::vector<std::string_view> fields;
  for (std::size_t begin = 0;; ++begin) {
    const std::size_t first = line.find_first_not_of(kBlanks, begin);
    std::size_t comma = std::min(line.size(), line.find(',', begin));
    if (first != std::string_view::npos && line[first] == '"') {
      const std::size_t close = closing_quote(line, first + 1);
      if (close == std::string_view::npos) {
        *why = message("a quote stays open");
        return std::nullopt;
      }
      fields.push_back(line.substr(first + 1, close - first - 1));
      comma = std::min(line.size(), line.find_first_not_of(kBlanks, close + 1));
      if (comma < line.size() && line[comma] != ',') {
        *why = message("text behind a quote");
        return std::nullopt;
      }
    } else {
      fields.push_back(line.substr(begin, comma - begin));
    }
    if (comma == line.size()) return fields;
    begin = comma;
  }
}

std::string csv_text(std::string_view field) {
  std::string text;
  for (std::size_t i = 0; i < field.size(); ++i) {
    text += field[i];
    if (field[i] == '"' && i + 1 < field.size() && field[i + 1] == '"') ++i;
  }
  return text;
}

std::string csv_field(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace dryfit::model
