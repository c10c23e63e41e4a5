#pragma once
/// Text that people can trust their eyes with: what a reader lets in, and how a message repeats what it refuses.
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "model/frame/input_error.hpp"
#include "model/frame/message.hpp"

namespace dryfit::model {

/// Something that would hide, reorder or break text on a screen or on paper.
struct Unfit {
  std::size_t at = 0;  ///< byte in the text
  Message what;        ///< "control character 0x07, expected plain text"
};

/// The first thing in `text` that is no plain text: a byte that is no UTF-8, a control character (tabs and ends of
/// lines are let pass), a mark that turns the direction of writing, a line or paragraph separator, a byte order mark, a
/// code point that is no character. O(n).
[[nodiscard]] std::optional<Unfit> first_unfit(std::string_view text);

/// The same of a text that has to stay on one line, as a name does.
[[nodiscard]] std::optional<Unfit> first_unfit_in_line(std::string_view text);

/// What messages repeat of a value: at most so many characters.
inline constexpr std::size_t kMostShown = 60;

/// `text` as it may stand in a message: what is unfit as \xNN or \u{NNNN}, and "..." in place of what is beyond
/// kMostShown characters.
[[nodiscard]] std::string shown(std::string_view text);

/// All of `text` with what is unfit escaped; ends of lines stay. For the last gate before a screen.
[[nodiscard]] std::string escaped(std::string_view text);

/// `text` with \n at the end of every line, whether they ended in \n, \r\n or \r, and without a byte order mark in
/// front.
[[nodiscard]] std::string with_plain_lines(std::string text);

/// Line and column of a byte, both from 1; columns count characters.
[[nodiscard]] SourcePos place_of(std::string_view text, std::size_t byte);

}  // namespace dryfit::model
