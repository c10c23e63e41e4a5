#pragma once
/// Text on drawings. Sizes in mm; measured the same on every kind of page (no hinting).
#include <cairo.h>

#include <string>

#include "cli/draw/paint/look.hpp"

namespace dryfit::cli {

struct TextSize {
  double width = 0.0;
  double height = 0.0;  ///< from the top of capitals to the baseline
};

struct TextStyle {
  double size = 3.0;  ///< height of the font's em, mm
  bool bold = false;
};

/// User units of `cairo` are mm.
[[nodiscard]] TextSize measure(cairo_t* cairo, const std::string& text, const TextStyle& style);
/// `x` is the left edge, `y` the baseline.
void draw_text(cairo_t* cairo, double x, double y, const std::string& text, const TextStyle& style,
               look::Tone tone = look::kInk);
void draw_text_centred(cairo_t* cairo, double x, double y, const std::string& text, const TextStyle& style,
                       look::Tone tone = look::kInk);

}  // namespace dryfit::cli
