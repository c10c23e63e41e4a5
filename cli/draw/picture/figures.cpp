#include "cli/draw/picture/figures.hpp"

#include <numbers>

#include "cli/draw/paint/look.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

/// Draws in a square of side 1 that lies somewhere on the page.
class Sketch {
 public:
  Sketch(Canvas& canvas, double x, double y, double size) : canvas_(canvas), x_(x), y_(y), size_(size) {
    canvas.use(look::kInk);
    canvas.line_width(0.11 * size);
    canvas.round_ends(true);
  }
  ~Sketch() { canvas_.round_ends(false); }
  Sketch(const Sketch&) = delete;
  Sketch& operator=(const Sketch&) = delete;
  Sketch& from(double x, double y) {
    canvas_.move_to(x_ + x * size_, y_ + y * size_);
    return *this;
  }
  Sketch& to(double x, double y) {
    canvas_.line_to(x_ + x * size_, y_ + y * size_);
    return *this;
  }
  void line() { canvas_.stroke(); }
  void dot(double x, double y, double radius) {
    canvas_.begin();
    canvas_.arc(x_ + x * size_, y_ + y * size_, radius * size_, 0.0, 2.0 * std::numbers::pi);
    canvas_.close();
    canvas_.fill();
  }

 private:
  Canvas& canvas_;
  double x_, y_, size_;
};

}  // namespace

void draw_figure(Canvas& canvas, Figure figure, double x, double y, double size) {
  canvas.save();
  {
    Sketch sketch(canvas, x, y, size);
    switch (figure) {
      case Figure::person:  // head, arms lifted to what they hold, body, legs
        sketch.dot(0.5, 0.17, 0.14);
        sketch.from(0.12, 0.16).to(0.30, 0.42).to(0.70, 0.42).to(0.88, 0.16).line();
        sketch.from(0.5, 0.42).to(0.5, 0.66).line();
        sketch.from(0.28, 0.96).to(0.5, 0.66).to(0.72, 0.96).line();
        break;
      case Figure::prop:  // a fork on a post with a foot
        sketch.from(0.18, 0.06).to(0.5, 0.34).to(0.82, 0.06).line();
        sketch.from(0.5, 0.34).to(0.5, 0.94).line();
        sketch.from(0.2, 0.94).to(0.8, 0.94).line();
        break;
      case Figure::clamp:  // a bow with a screw
        sketch.from(0.72, 0.12).to(0.22, 0.12).to(0.22, 0.74).to(0.72, 0.74).line();
        sketch.from(0.72, 0.12).to(0.72, 0.26).line();
        sketch.from(0.72, 0.96).to(0.72, 0.5).line();
        sketch.from(0.56, 0.5).to(0.88, 0.5).line();
        sketch.from(0.56, 0.96).to(0.88, 0.96).line();
        break;
    }
  }
  canvas.restore();
}

std::string word_beside(Figure figure) {
  switch (figure) {
    case Figure::person: return say_in("help in a picture", "second person");
    case Figure::prop: return say_in("help in a picture", "prop");
    case Figure::clamp: break;
  }
  return say_in("help in a picture", "clamp or tie");
}

}  // namespace dryfit::cli
