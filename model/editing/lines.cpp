#include "model/editing/lines.hpp"

#include <algorithm>
#include <stdexcept>

#include "model/frame/cannot_edit.hpp"

namespace dryfit::model {
namespace {

bool nothing_in_line(std::string_view text, std::size_t line) {
  const std::size_t first = line + indent_at(text, line);
  return first >= text.size() || text[first] == '\n' || text[first] == '\r' || text[first] == '#';
}

bool has_dash(std::string_view text, std::size_t line) {
  return text.substr(line + indent_at(text, line)).starts_with("- ");
}

}  // namespace

std::string with_patches(std::string_view text, std::vector<Patch> patches) {
  std::stable_sort(patches.begin(), patches.end(),
                   [](const Patch& a, const Patch& b) { return a.where.from < b.where.from; });
  std::string made;
  std::size_t done = 0;
  for (const Patch& patch : patches) {
    made.append(text.substr(done, patch.where.from - done)).append(patch.with);
    done = patch.where.to;
  }
  return made.append(text.substr(done));
}

std::string put_in(std::string_view text, std::size_t place, std::string_view more) {
  return std::string(text.substr(0, place)).append(more).append(text.substr(place));
}

std::string newline_of(std::string_view text) {
  const std::size_t first = text.find('\n');
  return first != std::string_view::npos && first > 0 && text[first - 1] == '\r' ? "\r\n" : "\n";
}

std::size_t line_begin(std::string_view text, std::size_t place) {
  const std::size_t before = place == 0 ? std::string_view::npos : text.rfind('\n', place - 1);
  return before == std::string_view::npos ? 0 : before + 1;
}

std::size_t line_end(std::string_view text, std::size_t place) {
  const std::size_t end = text.find('\n', place);
  return end == std::string_view::npos ? text.size() : end + 1;
}

std::size_t indent_at(std::string_view text, std::size_t line) {
  std::size_t indent = 0;
  while (line + indent < text.size() && text[line + indent] == ' ') ++indent;
  return indent;
}

bool begins_line(std::string_view text, std::size_t place) {
  const std::size_t line = line_begin(text, place);
  return text.substr(line, place - line).find_first_not_of(" -") == std::string_view::npos;
}

std::size_t block_end(std::string_view text, std::size_t line, std::size_t indent) {
  std::size_t end = line_end(text, line);
  for (std::size_t next = end; next < text.size(); next = line_end(text, next)) {
    if (nothing_in_line(text, next)) continue;
    const std::size_t other = indent_at(text, next);
    // The items of a list may stand right below its key.
    const bool item = other == indent && has_dash(text, next) && !has_dash(text, line);
    if (other <= indent && !item) break;
    end = line_end(text, next);
  }
  return end;
}

std::size_t quoted_end(std::string_view text, std::size_t open) {
  const char quote = text[open];
  for (std::size_t i = open + 1; i < text.size(); ++i) {
    if (quote == '"' && text[i] == '\\') {
      ++i;
    } else if (text[i] == quote) {
      return i + 1;
    }
  }
  return text.size();
}

std::size_t closing_bracket(std::string_view text, std::size_t open) {
  int depth = 0;
  for (std::size_t i = open; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '"' || c == '\'') {
      i = quoted_end(text, i) - 1;
    } else if (c == '#' && i > 0 && (text[i - 1] == ' ' || text[i - 1] == '\n')) {
      i = line_end(text, i) - 1;
    } else if (c == '[' || c == '{') {
      ++depth;
    } else if ((c == ']' || c == '}') && --depth == 0) {
      return i;
    }
  }
  throw CannotEdit(message("a bracket is not closed"));
}

}  // namespace dryfit::model
