#include "cli/draw/paint/svg_canvas.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <numbers>
#include <string>

#include "cli/draw/paint/pen.hpp"

using namespace dryfit::cli;

namespace {

constexpr const char* kHead =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40mm\" height=\"30mm\" viewBox=\"0 0 40 30\" "
    "font-family=\"'DejaVu Sans',Verdana,sans-serif\">\n";
constexpr const char* kPaper = "<path fill=\"#ffffff\" d=\"M0 0H40V30H0Z\"/>\n";

}  // namespace

TEST_CASE("a drawing as plain SVG, word for word") {
  SvgCanvas canvas(40.0, 30.0, "Rail <1>");
  canvas.use(look::kPipe);
  canvas.move_to(1.0, 2.0);
  canvas.line_to(3.00049, 2.0);
  canvas.line_to(3.0, 4.12345);
  canvas.close();
  canvas.fill_and_keep();
  canvas.line_width(0.2);
  canvas.use({0.0, 0.0, 0.0});
  canvas.stroke();
  draw_dashed(canvas, 5.0, 5.0, 9.0, 5.0, 0.35, 2.0, {1.0, 0.0, 0.0});
  canvas.text(2.0, 20.0, "P1 & \"S<1>\"", {3.0, true}, {0.0, 0.0, 0.0});
  CHECK(canvas.finish() ==
        std::string(kHead) + "<title>Rail &lt;1&gt;</title>\n" + kPaper +
            "<path fill=\"#ebedf0\" d=\"M1 2L3 2L3 4.123Z\"/>\n"
            "<path fill=\"none\" stroke=\"#000000\" stroke-width=\"0.2\" d=\"M1 2L3 2L3 4.123Z\"/>\n"
            "<path fill=\"none\" stroke=\"#ff0000\" stroke-width=\"0.35\" stroke-dasharray=\"2 1.2\" d=\"M5 5L9 5\"/>\n"
            "<text x=\"2\" y=\"20\" font-size=\"3\" font-weight=\"bold\" fill=\"#000000\" textLength=\"" +
            fmt::format("{:.3f}", SvgCanvas(10.0, 10.0, "").text_width("P1 & \"S<1>\"", {3.0, true})) +
            "\" lengthAdjust=\"spacingAndGlyphs\">P1 &amp; &quot;S&lt;1&gt;&quot;</text>\n</svg>\n");
}

TEST_CASE("a whole circle is two arcs, and a quarter begins with a line to it") {
  SvgCanvas canvas(40.0, 30.0, "");
  canvas.use({0.0, 0.0, 0.0});
  canvas.begin();
  canvas.arc(10.0, 10.0, 2.0, 0.0, 2.0 * std::numbers::pi);
  canvas.close();
  canvas.fill();
  canvas.move_to(0.0, 0.0);
  canvas.arc(20.0, 10.0, 2.0, 0.0, std::numbers::pi / 2.0);
  canvas.fill();
  CHECK(canvas.finish() == std::string(kHead) + kPaper +
                               "<path fill=\"#000000\" d=\"M12 10A2 2 0 0 1 8 10A2 2 0 0 1 12 10Z\"/>\n"
                               "<path fill=\"#000000\" d=\"M0 0L22 10A2 2 0 0 1 20 12\"/>\n</svg>\n");
}

TEST_CASE("clips are groups that end where they are taken back, and equal ones have one name") {
  const auto clipped = [] {
    SvgCanvas canvas(40.0, 30.0, "");
    for (int k = 0; k < 2; ++k) {
      canvas.save();
      canvas.box(0.0, 0.0, 5.0, 5.0);
      canvas.clip();
      canvas.box(1.0, 1.0, 9.0, 9.0);
      canvas.fill();
      canvas.restore();
    }
    return canvas.finish();
  };
  const std::string svg = clipped();
  CHECK(svg == clipped());
  const std::size_t at = svg.find("<clipPath id=\"") + 14;
  const std::string name = svg.substr(at, svg.find('"', at) - at);
  const std::string group = "<clipPath id=\"" + name +
                            "\"><path d=\"M0 0L5 0L5 5L0 5Z\"/></clipPath>\n<g clip-path=\"url(#" + name +
                            ")\">\n<path fill=\"#000000\" d=\"M1 1L10 1L10 10L1 10Z\"/>\n</g>\n";
  CHECK(svg == std::string(kHead) + kPaper + group + group + "</svg>\n");
}

TEST_CASE("turned text stands where it is put, and what is restored is as before") {
  SvgCanvas canvas(40.0, 30.0, "");
  draw_text_upright(canvas, 12.0, 15.0, "S1", {3.0, false}, {0.0, 0.0, 0.0});
  canvas.move_to(1.0, 1.0);
  canvas.line_to(2.0, 1.0);
  canvas.stroke();
  const std::string svg = canvas.finish();
  CHECK(svg.find("<text transform=\"translate(12 ") != std::string::npos);
  CHECK(svg.find(") rotate(-90)\"") != std::string::npos);
  CHECK(svg.find("d=\"M1 1L2 1\"") != std::string::npos);
}
