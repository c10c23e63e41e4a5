/// Labels on grids drawn by hand.
#include "cli/draw/picture/labels.hpp"
#include "tests/support/seen/filled.hpp"

#include <doctest/doctest.h>

namespace {

using namespace dryfit;
using cli::LabelWish;
using cli::NumberGrid;
using cli::RectMm;

/// `width` by 40 mm, two cells to the mm.
NumberGrid paper(int width) {
  NumberGrid grid;
  grid.width = 2 * width;
  grid.height = 80;
  grid.per_mm = 2.0;
  grid.cells.assign(at(grid.width) * 80, model::kNone);
  return grid;
}

LabelWish wish(double width) {
  LabelWish out;
  out.text = "C1";
  out.parts = {0};
  out.width = width;
  out.height = 3.0;
  return out;
}

}  // namespace

TEST_CASE("a label is told how far its line runs over other parts") {
  // The part stands in the middle of a board that fills the page but for a strip at the top.
  NumberGrid grid = paper(60);
  tests::fill(grid, 1, {0.0, 10.0, 60.0, 30.0});
  tests::fill(grid, 0, {29.0, 18.0, 2.0, 2.0});
  const auto over = cli::place_labels(grid, {wish(8.0)}, {});
  REQUIRE(over.placed.size() == 1);
  // From the part's upper half, 18 to 20 mm down, to the board's edge at 10 mm: 8 mm and what it slants.
  CHECK(over.placed[0].over > 6.0);
  CHECK(over.placed[0].over < 12.0);
  NumberGrid open = paper(60);
  tests::fill(open, 0, {29.0, 18.0, 2.0, 2.0});
  const auto near = cli::place_labels(open, {wish(8.0)}, {});
  REQUIRE(near.placed.size() == 1);
  CHECK(near.placed[0].over == 0.0);
  CHECK_FALSE(near.placed[0].over_words);
}

TEST_CASE("a narrow gap that the usual places miss is found rather than a line across") {
  // Right of the part a post, then 10.4 mm of paper for a label of 10; left of it boards.
  NumberGrid grid = paper(60);
  tests::fill(grid, 1, {0.0, 0.0, 40.0, 40.0});
  tests::fill(grid, 0, {40.0, 19.0, 2.0, 2.0});
  tests::fill(grid, 2, {46.0, 0.0, 2.0, 40.0});
  const auto found = cli::place_labels(grid, {wish(10.4)}, {});
  REQUIRE(found.placed.size() == 1);
  CHECK(found.placed[0].over < 3.0);
  CHECK(found.placed[0].box.x >= 48.0);
}
