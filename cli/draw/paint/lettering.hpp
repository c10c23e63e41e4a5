#pragma once
/// Text on drawings. Sizes in mm; measured the same on every kind of page (no hinting).
#include <string>

#include "cli/draw/paint/canvas.hpp"

namespace dryfit::cli {

struct TextSize {
  double width = 0.0;
  double height = 0.0;  ///< from the top of capitals to the baseline
};

[[nodiscard]] TextSize measure(Canvas& canvas, const std::string& text, const TextStyle& style);
/// `x` is the left edge, `y` the baseline.
void draw_text(Canvas& canvas, double x, double y, const std::string& text, const TextStyle& style,
               look::Tone tone = look::kInk);
void draw_text_centred(Canvas& canvas, double x, double y, const std::string& text, const TextStyle& style,
                       look::Tone tone = look::kInk);

}  // namespace dryfit::cli
