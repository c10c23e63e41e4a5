#include "cli/draw/paint/letter_widths.hpp"

#include <doctest/doctest.h>

#include <string>

#include "cli/draw/paint/lettering.hpp"
#include "cli/draw/paint/surface.hpp"

using namespace dryfit::cli;

namespace {

std::string utf8(char32_t letter) {
  std::string out;
  if (letter < 0x80) {
    out += static_cast<char>(letter);
  } else if (letter < 0x800) {
    out += static_cast<char>(0xC0U | (letter >> 6U));
    out += static_cast<char>(0x80U | (letter & 0x3FU));
  } else {
    out += static_cast<char>(0xE0U | (letter >> 12U));
    out += static_cast<char>(0x80U | ((letter >> 6U) & 0x3FU));
    out += static_cast<char>(0x80U | (letter & 0x3FU));
  }
  return out;
}

}  // namespace

TEST_CASE("letters are as wide in the table as in the font that the program draws with") {
  const std::string page = one_page(PictureFormat::pdf, 20.0, 20.0, "", [&](Canvas& canvas) {
    int compared = 0;
    for (char32_t letter = 0x20; letter < 0x2400; ++letter) {
      // A number that no font has: a letter that is not in the table.
      if (letter_width(letter, false) == 0.6 && letter_width(letter, true) == 0.6) continue;
      for (const bool bold : {false, true}) {
        CAPTURE(static_cast<unsigned>(letter));
        CAPTURE(bold);
        // Between two bars, so that a blank counts as well.
        const double width =
            measure(canvas, "|" + utf8(letter) + "|", {1.0, bold}).width - measure(canvas, "||", {1.0, bold}).width;
        CHECK(width == doctest::Approx(letter_width(letter, bold)).epsilon(0.004));
      }
      ++compared;
    }
    CHECK(compared > 500);
  });
  CHECK(page.starts_with("%PDF"));
}

TEST_CASE("a text is as wide as its letters, and letters beyond the table are guessed") {
  CHECK(width_of_letters("", false) == 0.0);
  CHECK(width_of_letters("ii", false) == doctest::Approx(2.0 * letter_width('i', false)));
  CHECK(width_of_letters("\xC3\xA4", false) == letter_width(0xE4, false));
  CHECK(width_of_letters("W", true) > width_of_letters("W", false));
  CHECK(width_of_letters("W", false) > width_of_letters("i", false));
  CHECK(letter_width(0x4E00, false) == 1.0);
  CHECK(letter_width(0x10D0, false) == 0.6);
  // Bytes that are no UTF-8 come to an end all the same.
  CHECK(width_of_letters("\xF0\x80", false) > 0.0);
  CHECK(width_of_letters("\x80\x80\x80", false) > 0.0);
}
