#pragma once
/// What canvases that write SVG share: the setting of the pen, where a point comes to lie on the page, boxes and arcs.
#include <string>

#include "cli/draw/paint/canvas.hpp"

namespace dryfit::cli {

class MarkupCanvas : public Canvas {
 public:
  void begin() override { drawing_ = false; }
  void arc(double x, double y, double radius, double from, double to) override;
  void box(double x, double y, double width, double height) override;

  void use(look::Tone tone) override { now_.tone = tone; }
  void line_width(double width) override { now_.line_width = width; }
  void round_ends(bool round) override { now_.round_ends = round; }
  void round_corners() override { now_.round_corners = true; }
  void dashes(double on, double off) override;

  void translate(double x, double y) override;
  void rotate(double radians) override { now_.turned += radians; }

  [[nodiscard]] double text_width(const std::string& text, const TextStyle& style) override;

  void check(const char* /*doing*/) const override {}

 protected:
  struct Place {
    double x = 0.0, y = 0.0;  ///< page mm
  };
  struct Setting {
    look::Tone tone;
    double line_width = 1.0;
    bool round_ends = false;
    bool round_corners = false;
    double dash_on = 0.0, dash_off = 0.0;
    double x = 0.0, y = 0.0, turned = 0.0;  ///< where the drawing's origin is on the page, and its turn in radians
    int clips = 0;                          ///< groups that clips have opened
  };
  [[nodiscard]] Place placed(double x, double y) const;
  /// An arc of less than a turn to a place, clockwise as the page is seen; `wide`: of more than half a turn.
  virtual void arc_to(Place to, double radius, bool wide) = 0;

  Setting now_;
  bool drawing_ = false;  ///< the path has a point that a line can start from
};

}  // namespace dryfit::cli
