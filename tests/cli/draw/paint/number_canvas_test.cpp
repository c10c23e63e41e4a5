#include "cli/draw/paint/number_canvas.hpp"

#include <doctest/doctest.h>

#include <initializer_list>
#include <string>
#include <utility>

using dryfit::cli::NumberCanvas;

namespace {

void trace(NumberCanvas& canvas, std::initializer_list<std::pair<double, double>> points) {
  bool first = true;
  for (const auto& [x, y] : points) {
    first ? canvas.move_to(x, y) : canvas.line_to(x, y);
    first = false;
  }
  canvas.close();
}

/// Rows of figures, '.' for none.
std::string drawn(NumberCanvas& canvas, int width) {
  std::string out;
  int column = 0;
  for (const int cell : canvas.take_cells()) {
    out += cell < 0 ? '.' : static_cast<char>('0' + cell);
    if (++column % width == 0) out += '\n';
  }
  return out;
}

}  // namespace

TEST_CASE("a cell takes the number of the outline that its centre lies in, the last one drawn") {
  NumberCanvas canvas(6, 4, 10.0, 20.0, 2.0);  // a cell is half a millimetre
  canvas.number(1);
  trace(canvas, {{10.0, 20.0}, {12.0, 20.0}, {12.0, 21.5}, {10.0, 21.5}});
  canvas.fill();
  canvas.number(2);
  trace(canvas, {{11.24, 20.5}, {13.0, 20.5}, {13.0, 21.0}, {11.24, 21.0}});  // 0.24 < 0.25: the centre is inside
  canvas.fill();
  CHECK(drawn(canvas, 6) ==
        "1111..\n"
        "112222\n"
        "1111..\n"
        "......\n");
}

TEST_CASE("outlines that meet leave no cell between them and share none") {
  NumberCanvas canvas(8, 8, 0.0, 0.0, 1.0);
  canvas.number(1);
  trace(canvas, {{0.0, 0.0}, {8.0, 0.0}, {0.0, 8.0}});
  canvas.fill();
  const std::string first = drawn(canvas, 8);
  NumberCanvas other(8, 8, 0.0, 0.0, 1.0);
  other.number(1);
  trace(other, {{8.0, 0.0}, {8.0, 8.0}, {0.0, 8.0}});
  other.fill();
  const std::string second = drawn(other, 8);
  for (std::size_t i = 0; i < first.size(); ++i) {
    if (first[i] != '\n') CHECK((first[i] == '1') != (second[i] == '1'));
  }
}

TEST_CASE("an inner outline is a hole when it goes round the other way, and none when it goes the same way") {
  NumberCanvas canvas(5, 5, 0.0, 0.0, 1.0);
  canvas.number(3);
  trace(canvas, {{0.0, 0.0}, {5.0, 0.0}, {5.0, 5.0}, {0.0, 5.0}});
  trace(canvas, {{1.0, 1.0}, {1.0, 4.0}, {4.0, 4.0}, {4.0, 1.0}});
  canvas.fill();
  trace(canvas, {{2.0, 2.0}, {3.0, 2.0}, {3.0, 3.0}, {2.0, 3.0}});
  trace(canvas, {{2.0, 2.0}, {3.0, 2.0}, {3.0, 3.0}, {2.0, 3.0}});
  canvas.fill();
  CHECK(drawn(canvas, 5) ==
        "33333\n"
        "3...3\n"
        "3.3.3\n"
        "3...3\n"
        "33333\n");
}

TEST_CASE("clips cut off what is outside all of them, until they are taken back") {
  NumberCanvas canvas(5, 3, 0.0, 0.0, 1.0);
  canvas.save();
  trace(canvas, {{0.0, 0.0}, {3.0, 0.0}, {3.0, 3.0}, {0.0, 3.0}});
  canvas.clip();
  canvas.save();
  trace(canvas, {{2.0, 1.0}, {5.0, 1.0}, {5.0, 3.0}, {2.0, 3.0}});
  canvas.clip();
  canvas.number(1);
  trace(canvas, {{0.0, 0.0}, {5.0, 0.0}, {5.0, 3.0}, {0.0, 3.0}});
  canvas.fill();
  canvas.restore();
  canvas.number(2);
  trace(canvas, {{0.0, 0.0}, {5.0, 0.0}, {5.0, 1.0}, {0.0, 1.0}});
  canvas.fill();
  canvas.restore();
  canvas.number(3);
  trace(canvas, {{4.0, 0.0}, {5.0, 0.0}, {5.0, 1.0}, {4.0, 1.0}});
  canvas.fill();
  canvas.save();
  canvas.clip();  // of nothing: nothing is left to draw on
  trace(canvas, {{0.0, 0.0}, {5.0, 0.0}, {5.0, 3.0}, {0.0, 3.0}});
  canvas.fill();
  canvas.restore();
  CHECK(drawn(canvas, 5) ==
        "222.3\n"
        "..1..\n"
        "..1..\n");
}
