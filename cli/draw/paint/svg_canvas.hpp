#pragma once
/// Drawings as plain SVG, with text that stays text: no library below, so the bytes depend on the drawing alone.
#include <string>
#include <vector>

#include "cli/draw/paint/canvas.hpp"

namespace dryfit::cli {

/// One page, white. Text is given the widths of letter_widths.hpp, whatever face a reader has.
class SvgCanvas final : public Canvas {
 public:
  SvgCanvas(double width_mm, double height_mm, const std::string& title);

  void move_to(double x, double y) override;
  void line_to(double x, double y) override;
  void close() override;
  void fill() override;
  void clip() override;
  void save() override;
  void restore() override;

  void begin() override { drawing_ = false; }
  void arc(double x, double y, double radius, double from, double to) override;
  void box(double x, double y, double width, double height) override;
  void fill_and_keep() override;
  void stroke() override;

  void use(look::Tone tone) override { now_.tone = tone; }
  void line_width(double width) override { now_.line_width = width; }
  void round_ends(bool round) override { now_.round_ends = round; }
  void round_corners() override { now_.round_corners = true; }
  void dashes(double on, double off) override;

  void translate(double x, double y) override;
  void rotate(double radians) override { now_.turned += radians; }

  [[nodiscard]] double text_width(const std::string& text, const TextStyle& style) override;
  void text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) override;

  void check(const char* /*doing*/) const override {}

  /// The whole document. Nothing can be drawn after that.
  [[nodiscard]] std::string finish();

 private:
  struct Setting {
    look::Tone tone;
    double line_width = 1.0;
    bool round_ends = false;
    bool round_corners = false;
    double dash_on = 0.0, dash_off = 0.0;
    double x = 0.0, y = 0.0, turned = 0.0;  ///< where the drawing's origin is on the page, and its turn in radians
    int clips = 0;                          ///< groups that clips have opened
  };
  /// "x y" on the page.
  [[nodiscard]] std::string place(double x, double y) const;
  void add_outline(const std::string& paint);

  std::string out_;
  std::string path_;
  bool drawing_ = false;  ///< the path has a point that a line can start from
  Setting now_;
  std::vector<Setting> saved_;
};

}  // namespace dryfit::cli
