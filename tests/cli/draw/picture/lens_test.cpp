/// Lenses on grids drawn by hand: part 0 is new, part 1 a board.
#include "cli/draw/picture/lens.hpp"

#include <doctest/doctest.h>

#include "cli/draw/picture/labels.hpp"
#include "tests/support/seen/filled.hpp"

namespace {

using namespace dryfit;
using cli::Lens;
using cli::NumberGrid;
using cli::RectMm;

/// 80 mm square, two cells to the mm.
NumberGrid free_paper() {
  NumberGrid grid;
  grid.width = grid.height = 160;
  grid.per_mm = 2.0;
  grid.cells.assign(160 * 160, model::kNone);
  return grid;
}

std::optional<Lens> lens_on(const NumberGrid& grid, const std::vector<RectMm>& taken = {}, double ring = 0.0) {
  const cli::PageMap map{cli::Projection(cli::View{}), 1.0, 0.0, 0.0};
  return cli::place_lens(map, grid, {true, false}, ring, taken);
}

double away(const Lens& lens) { return std::hypot(lens.centre.x - lens.subject.x, lens.centre.y - lens.subject.y); }

}  // namespace

TEST_CASE("a glass keeps off the ring round what it shows, off what is taken, and is filled") {
  NumberGrid grid = free_paper();
  tests::fill(grid, 0, {40.0, 40.0, 2.0, 2.0});
  const auto lens = lens_on(grid);
  REQUIRE(lens.has_value());
  CHECK(away(*lens) > lens->radius + lens->radius / lens->zoom);
  CHECK(lens->over == 0.0);
  CHECK(lens->has_line());
  // Of 2 mm by 2 mm more than half of the glass is filled from side to side.
  CHECK(2.0 * lens->zoom > lens->radius);
  const RectMm taken{0.0, 0.0, 80.0, 38.0};
  const auto lower = lens_on(grid, {taken});
  REQUIRE(lower.has_value());
  CHECK_FALSE(cli::overlap(lower->box(), taken));
}

TEST_CASE("the line of a glass goes round a board where it can") {
  NumberGrid grid = free_paper();
  tests::fill(grid, 1, {10.0, 44.0, 60.0, 20.0});
  tests::fill(grid, 0, {40.0, 40.0, 2.0, 2.0});
  const auto lens = lens_on(grid);
  REQUIRE(lens.has_value());
  CHECK(lens->over == 0.0);
  CHECK(lens->centre.y < 44.0);
}

TEST_CASE("before a board a glass close by has no line, and one far off has") {
  NumberGrid grid = free_paper();
  tests::fill(grid, 1, {0.0, 30.0, 80.0, 14.0});
  tests::fill(grid, 0, {40.0, 35.0, 2.0, 2.0});
  const auto close = lens_on(grid);
  REQUIRE(close.has_value());
  CHECK(close->over > 0.5);
  CHECK_FALSE(close->has_line());
  NumberGrid wide = free_paper();
  tests::fill(wide, 1, {0.0, 15.0, 80.0, 50.0});
  tests::fill(wide, 0, {40.0, 40.0, 2.0, 2.0});
  const auto far_off = lens_on(wide);
  if (far_off) CHECK(far_off->has_line());
}

TEST_CASE("what a glass would hardly enlarge has none") {
  NumberGrid grid = free_paper();
  tests::fill(grid, 0, {36.0, 36.0, 10.0, 10.0});
  CHECK(lens_on(grid).has_value());
  // With an arrow round it that is 12 mm across, the glass would show it less than twice as large.
  CHECK_FALSE(lens_on(grid, {}, 6.0).has_value());
}
