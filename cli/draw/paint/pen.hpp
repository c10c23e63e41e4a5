#pragma once
/// Small strokes that sheets are made of. Page units are mm.
#include <string>
#include <vector>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/lettering.hpp"

namespace dryfit::cli {

void draw_line(Canvas& canvas, double x0, double y0, double x1, double y1, double width, look::Tone tone = look::kInk);
void draw_dashed(Canvas& canvas, double x0, double y0, double x1, double y1, double width, double dash,
                 look::Tone tone = look::kInk);
void draw_box(Canvas& canvas, double x, double y, double width, double height, double line,
              look::Tone tone = look::kInk);
void draw_circle(Canvas& canvas, double x, double y, double radius, double line, look::Tone tone = look::kInk);
/// Fills the path, and strokes its outline over that. The path is used up.
void fill_outlined(Canvas& canvas, look::Tone ground, look::Tone outline, double line);
/// Two lines that cross at the point, each `reach` to either side.
void draw_cross(Canvas& canvas, double x, double y, double reach, double line, look::Tone tone = look::kInk);
/// Text whose baseline's middle is at the point, turned a quarter to read from the right.
void draw_text_upright(Canvas& canvas, double x, double y, const std::string& text, const TextStyle& style,
                       look::Tone tone = look::kInk);
/// The text broken at blanks to lines of at most `width` mm; a longer word stands alone.
[[nodiscard]] std::vector<std::string> broken_lines(Canvas& canvas, const std::string& text, double width,
                                                    const TextStyle& style);
/// Breaks at blanks to lines of at most `width` mm, draws them `leading` apart; returns the next baseline.
double draw_paragraph(Canvas& canvas, double x, double y, double width, double leading, const std::string& text,
                      const TextStyle& style, look::Tone tone = look::kInk);

}  // namespace dryfit::cli
