#pragma once
/// How wide letters are, for drawings that are laid out where no font can be asked: those of DejaVu Sans, which the
/// program draws with as well. The table is letter_widths.csv; a test holds it against the font.
#include <string_view>

namespace dryfit::cli {

/// In ems: by how much a letter takes the next one forward. A guess for letters that are not in the table.
[[nodiscard]] double letter_width(char32_t letter, bool bold);
/// The sum over a text in UTF-8, without kerning.
[[nodiscard]] double width_of_letters(std::string_view text, bool bold);

}  // namespace dryfit::cli
