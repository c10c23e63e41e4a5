#pragma once
/// What drawings are made on: a narrow door, so that the same drawing goes to paper through cairo (cairo_canvas.hpp),
/// into an SVG without it (svg_canvas.hpp), or into a grid of numbers (number_canvas.hpp). Lengths are page mm, y
/// down. Shapes are filled by the nonzero rule.
#include <string>

#include "cli/draw/paint/look.hpp"

namespace dryfit::cli {

struct TextStyle {
  double size = 3.0;  ///< height of the font's em, mm
  bool bold = false;
};

/// Takes outlines of straight lines, to be filled or to cut off what follows. fill() and clip() use the path up.
class OutlineCanvas {
 public:
  OutlineCanvas() = default;
  OutlineCanvas(const OutlineCanvas&) = delete;
  OutlineCanvas& operator=(const OutlineCanvas&) = delete;
  virtual ~OutlineCanvas() = default;

  virtual void move_to(double x, double y) = 0;
  virtual void line_to(double x, double y) = 0;
  virtual void close() = 0;
  virtual void fill() = 0;
  /// Until the restore() that belongs to the last save(), nothing is drawn outside the path, nor of earlier clips.
  virtual void clip() = 0;
  /// Keeps the clip, and on a Canvas everything that is set, for restore(). The path is not kept.
  virtual void save() = 0;
  virtual void restore() = 0;
};

class Canvas : public OutlineCanvas {
 public:
  /// A path of its own begins with what comes next, though no move_to() leads there.
  virtual void begin() = 0;
  /// The arc between two angles in radians, from x towards y (clockwise as seen); a line leads to its beginning.
  virtual void arc(double x, double y, double radius, double from, double to) = 0;
  virtual void box(double x, double y, double width, double height) = 0;
  virtual void fill_and_keep() = 0;
  virtual void stroke() = 0;

  virtual void use(look::Tone tone) = 0;
  virtual void line_width(double width) = 0;
  /// Round or cut off where the path ends.
  virtual void round_ends(bool round) = 0;
  virtual void round_corners() = 0;
  /// Strokes are broken: `on` mm of line, `off` mm of none. With 0 they are whole again.
  virtual void dashes(double on, double off) = 0;

  virtual void translate(double x, double y) = 0;
  virtual void rotate(double radians) = 0;

  [[nodiscard]] virtual double text_width(const std::string& text, const TextStyle& style) = 0;
  /// `x` is the left edge, `y` the baseline.
  virtual void text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) = 0;

  /// What follows, up to end_body(), is one body of a drawing, or a piece of one, at `scale` page mm to a mm of the
  /// room: a canvas may draw bodies that look alike once. Bodies may stand in bodies of the same scale.
  virtual void begin_body(double /*scale*/) {}
  virtual void end_body() {}

  /// Throws DrawError, with `doing` and the reason, when something has gone wrong.
  virtual void check(const char* doing) const = 0;
};

}  // namespace dryfit::cli
