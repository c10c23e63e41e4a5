#include "cli/draw/paint/stamp_canvas.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <string>

using namespace dryfit::cli;

namespace {

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

/// A triangle of a body of the room, drawn at a place of the page.
void triangle(StampCanvas& canvas, double x, double y, double scale) {
  canvas.begin_body(scale);
  canvas.use(look::kPipe);
  canvas.move_to(x, y);
  canvas.line_to(x + 30.0 * scale, y);
  canvas.line_to(x + 30.0 * scale, y + 40.0 * scale);
  canvas.close();
  canvas.fill();
  canvas.use(look::kInk);
  canvas.line_width(0.2);
  canvas.move_to(x, y);
  canvas.line_to(x + 30.0 * scale, y);
  canvas.stroke();
  canvas.end_body();
}

}  // namespace

TEST_CASE("a body that is drawn again, elsewhere, in another picture, at another scale, is written once") {
  StampSheet sheet;
  StampCanvas one(sheet);
  triangle(one, 10.0, 10.0, 0.20);
  triangle(one, 50.5, 20.25, 0.20);
  const std::string first = one.finish();
  StampCanvas two(sheet);
  triangle(two, 30.0, 60.0, 0.25);
  const std::string second = two.finish();
  CHECK(count(sheet.definitions(), "<g id=") == 1);
  CHECK(count(first, "<use ") == 2);
  CHECK(count(second, "<use ") == 1);
  // One group of its scale holds both, and its lines are as wide as on the page: --k units are a millimetre.
  CHECK(count(first, "transform=\"scale(") == 1);
  CHECK(sheet.style().find("stroke-width:calc(0.2px*var(--k))") != std::string::npos);
}

TEST_CASE("bodies come out where they are, to 0.04 mm, and their lines at their width") {
  for (const double scale : {0.05, 0.11, 0.3, 0.9}) {
    CAPTURE(scale);
    StampSheet sheet;
    StampCanvas canvas(sheet);
    triangle(canvas, 37.123, 21.987, scale);
    const std::string picture = canvas.finish();
    const auto number_after = [&](const std::string& word) {
      return std::stod(picture.substr(picture.find(word) + word.size()));
    };
    const double unit = number_after("scale(") * StampCanvas::kUnit;  // page mm
    CHECK(unit <= 0.04);
    CHECK(std::abs(number_after("--k:") * unit - 1.0) < 1e-3);
    CHECK(std::abs(number_after(" x=\"") * unit - 37.123) <= 0.04);
    CHECK(std::abs(number_after(" y=\"") * unit - 21.987) <= 0.04);
    const std::string body = sheet.definitions();
    const std::string corner = body.substr(body.find("d=\"m0 0 ") + 8);
    CHECK(std::abs(std::stod(corner) * unit - 30.0 * scale) <= 0.04);
  }
}

TEST_CASE("a body outside of what a clip leaves is not drawn, and what is filled and outlined is one path") {
  StampSheet sheet;
  StampCanvas canvas(sheet);
  canvas.save();
  canvas.box(0.0, 0.0, 20.0, 20.0);
  canvas.clip();
  triangle(canvas, 60.0, 60.0, 0.1);
  triangle(canvas, 10.0, 10.0, 0.1);
  canvas.restore();
  canvas.use(look::kPaper);
  canvas.box(30.0, 30.0, 5.0, 5.0);
  canvas.fill_and_keep();
  canvas.use(look::kInk);
  canvas.stroke();
  const std::string picture = canvas.finish();
  CHECK(count(picture, "<use ") == 1);
  CHECK(count(picture, "<path ") == 1);
  CHECK(count(picture, "<g ") == count(picture, "</g>"));
  CHECK(count(sheet.definitions(), "<clipPath ") == 1);
}

TEST_CASE("text and lines outside of bodies stand in hundredths of a millimetre") {
  StampSheet sheet;
  StampCanvas canvas(sheet);
  canvas.text(12.34, 5.0, "P<3>", {3.4, true}, look::kInk);
  canvas.use(look::kInk);
  canvas.line_width(0.3);
  canvas.move_to(1.0, 2.0);
  canvas.line_to(4.0, 6.0);
  canvas.stroke();
  const std::string picture = canvas.finish();
  CHECK(picture.find("x=\"1234\" y=\"500\"") != std::string::npos);
  CHECK(picture.find(">P&lt;3&gt;</text>") != std::string::npos);
  CHECK(picture.find("d=\"m100 200 300 400\"") != std::string::npos);
  CHECK(sheet.style().find("font-size:340px;font-weight:bold") != std::string::npos);
}
