#pragma once
/// Drawings on paper: cairo draws them, pango shapes their text.
#include <cairo.h>

#include "cli/draw/paint/canvas.hpp"

namespace dryfit::cli {

/// User units of `cairo` are mm; it must outlive the canvas.
class CairoCanvas final : public Canvas {
 public:
  explicit CairoCanvas(cairo_t* cairo) : cairo_(cairo) {}

  void move_to(double x, double y) override { cairo_move_to(cairo_, x, y); }
  void line_to(double x, double y) override { cairo_line_to(cairo_, x, y); }
  void close() override { cairo_close_path(cairo_); }
  void fill() override { cairo_fill(cairo_); }
  void clip() override { cairo_clip(cairo_); }
  void save() override { cairo_save(cairo_); }
  void restore() override { cairo_restore(cairo_); }

  void begin() override { cairo_new_sub_path(cairo_); }
  void arc(double x, double y, double radius, double from, double to) override {
    cairo_arc(cairo_, x, y, radius, from, to);
  }
  void box(double x, double y, double width, double height) override { cairo_rectangle(cairo_, x, y, width, height); }
  void fill_and_keep() override { cairo_fill_preserve(cairo_); }
  void stroke() override { cairo_stroke(cairo_); }

  void use(look::Tone tone) override { cairo_set_source_rgb(cairo_, tone.red, tone.green, tone.blue); }
  void line_width(double width) override { cairo_set_line_width(cairo_, width); }
  void round_ends(bool round) override {
    cairo_set_line_cap(cairo_, round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
  }
  void round_corners() override { cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND); }
  void dashes(double on, double off) override;

  void translate(double x, double y) override { cairo_translate(cairo_, x, y); }
  void rotate(double radians) override { cairo_rotate(cairo_, radians); }

  [[nodiscard]] double text_width(const std::string& text, const TextStyle& style) override;
  void text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) override;

  void check(const char* doing) const override;

 private:
  cairo_t* cairo_;
};

/// Throws DrawError with cairo's own words when something went wrong. cairo never does so itself.
void check_cairo(cairo_status_t status, const char* doing);

}  // namespace dryfit::cli
