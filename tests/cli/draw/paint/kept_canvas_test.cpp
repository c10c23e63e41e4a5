#include "cli/draw/paint/kept_canvas.hpp"

#include <doctest/doctest.h>

#include "cli/draw/paint/pen.hpp"
#include "cli/draw/paint/svg_canvas.hpp"

using namespace dryfit::cli;

namespace {

/// Something of everything that a canvas takes.
void draw_all(Canvas& canvas) {
  canvas.save();
  canvas.translate(3.0, 2.0);
  canvas.rotate(0.3);
  canvas.use(look::kNew);
  canvas.line_width(0.4);
  canvas.round_ends(true);
  canvas.round_corners();
  canvas.move_to(1.0, 1.0);
  canvas.line_to(8.0, 2.0);
  canvas.line_to(4.0, 7.0);
  canvas.close();
  canvas.fill_and_keep();
  canvas.stroke();
  canvas.box(1.0, 1.0, 12.0, 9.0);
  canvas.clip();
  canvas.dashes(1.0, 0.5);
  canvas.begin();
  canvas.arc(6.0, 6.0, 3.0, 0.0, 2.0);
  canvas.stroke();
  canvas.begin_body(1.0);
  canvas.box(2.0, 2.0, 3.0, 3.0);
  canvas.fill();
  canvas.end_body();
  canvas.restore();
  canvas.text(1.0, 20.0, "P1", {3.0, true}, look::kInk);
}

std::string drawn_directly() {
  SvgCanvas canvas(40.0, 30.0, "t");
  draw_all(canvas);
  return canvas.finish();
}

}  // namespace

TEST_CASE("what was kept is drawn as if it had been drawn at once") {
  SvgCanvas canvas(40.0, 30.0, "t");
  KeptCanvas kept(canvas);
  draw_all(kept);
  CHECK(kept.text_width("P1", {3.0, true}) == canvas.text_width("P1", {3.0, true}));
  kept.draw();
  CHECK(canvas.finish() == drawn_directly());
}

TEST_CASE("what is kept and not wanted leaves no trace") {
  SvgCanvas canvas(40.0, 30.0, "t");
  {
    KeptCanvas kept(canvas);
    draw_line(kept, 0.0, 0.0, 9.0, 9.0, 0.3);
  }
  draw_all(canvas);
  CHECK(canvas.finish() == drawn_directly());
}
