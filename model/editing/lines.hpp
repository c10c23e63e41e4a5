#pragma once
/// A text cut and joined by lines and brackets, as changes of a frame file need it. Places count bytes from 0.
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace dryfit::model {

/// [from, to) of a text.
struct Bytes {
  std::size_t from = 0;
  std::size_t to = 0;
};

/// What goes where those bytes stood.
struct Patch {
  Bytes where;
  std::string with;
};
/// All patches at once; they must not overlap. O(length of the text + patches log patches).
[[nodiscard]] std::string with_patches(std::string_view text, std::vector<Patch> patches);
[[nodiscard]] std::string put_in(std::string_view text, std::size_t place, std::string_view more);

/// How the text ends its lines: "\r\n" where its first line does, else "\n".
[[nodiscard]] std::string newline_of(std::string_view text);
[[nodiscard]] std::size_t line_begin(std::string_view text, std::size_t place);
/// The place behind the line, its newline taken in.
[[nodiscard]] std::size_t line_end(std::string_view text, std::size_t place);
/// Blanks at the beginning of the line that begins at `line`.
[[nodiscard]] std::size_t indent_at(std::string_view text, std::size_t line);
/// Nothing but blanks and the dash of a list stands before `place` in its line.
[[nodiscard]] bool begins_line(std::string_view text, std::size_t place);
/// Behind all lines that belong to what begins in the line at `line` with that indent: blank lines and comments at the
/// end belong to what follows.
[[nodiscard]] std::size_t block_end(std::string_view text, std::size_t line, std::size_t indent);
/// The place of the bracket that closes the one at `open`; quotes and comments are passed over. Throws
/// std::invalid_argument when there is none.
[[nodiscard]] std::size_t closing_bracket(std::string_view text, std::size_t open);
/// Behind the quoted text that begins at `open`.
[[nodiscard]] std::size_t quoted_end(std::string_view text, std::size_t open);

}  // namespace dryfit::model
