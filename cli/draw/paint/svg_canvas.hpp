#pragma once
/// Drawings as plain SVG, with text that stays text: no library below, so the bytes depend on the drawing alone.
#include <string>
#include <vector>

#include "cli/draw/paint/markup_canvas.hpp"

namespace dryfit::cli {

/// One page, white. Text is given the widths of letter_widths.hpp, whatever face a reader has.
class SvgCanvas final : public MarkupCanvas {
 public:
  SvgCanvas(double width_mm, double height_mm, const std::string& title);

  void move_to(double x, double y) override;
  void line_to(double x, double y) override;
  void close() override;
  void fill() override;
  void clip() override;
  void save() override;
  void restore() override;

  void fill_and_keep() override;
  void stroke() override;

  void text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) override;

  /// The whole document. Nothing can be drawn after that.
  [[nodiscard]] std::string finish();

 private:
  /// "x y" on the page.
  [[nodiscard]] static std::string text_of(Place place);
  void arc_to(Place to, double radius, bool wide) override;
  void add_outline(const std::string& paint);

  std::string out_;
  std::string path_;
  std::vector<Setting> saved_;
};

}  // namespace dryfit::cli
