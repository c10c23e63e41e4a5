/// Holes laid out by what was measured from post to post.
#include "planner/shop/measured.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "model/geometry/at.hpp"

using namespace dryfit;
using planner::DrillHole;
using planner::DrillSheet;
using planner::Drop;
using planner::Measured;
using planner::MeasuredFault;

namespace {

/// A board of 900 by 400 with holes for four posts on a rectangle of 800 by 300; pipes 10 to 13 go round it.
DrillSheet rectangle() {
  DrillSheet sheet;
  sheet.board = 1;
  sheet.size = {900.0, 400.0};
  const double places[4][2] = {{50, 50}, {850, 50}, {850, 350}, {50, 350}};
  for (int i = 0; i < 4; ++i) {
    DrillHole hole;
    hole.pipe = 10 + i;
    hole.from_low = {places[i][0], places[i][1]};
    hole.from_high = {900.0 - places[i][0], 400.0 - places[i][1]};
    hole.hole = 28.0;
    sheet.holes.push_back(hole);
  }
  for (int i = 0; i < 4; ++i) {
    for (int j = i + 1; j < 4; ++j) {
      planner::DrillPair pair;
      pair.first = i;
      pair.second = j;
      pair.spacing = pair.posts = std::hypot(places[i][0] - places[j][0], places[i][1] - places[j][1]);
      pair.drop = Drop::measure_first;
      sheet.pairs.push_back(pair);
    }
  }
  sheet.drop = Drop::measure_first;
  return sheet;
}

double spacing(const DrillSheet& sheet, std::size_t a, std::size_t b) {
  return std::hypot(sheet.holes[a].from_low[0] - sheet.holes[b].from_low[0],
                    sheet.holes[a].from_low[1] - sheet.holes[b].from_low[1]);
}

}  // namespace

TEST_CASE("two holes move apart by half each, and what stands over stays alike") {
  std::vector<DrillSheet> sheets = {rectangle()};
  REQUIRE_FALSE(planner::lay_out_measured(sheets, {{11, 10, 806.0}}));
  const DrillSheet& sheet = sheets.front();
  CHECK(std::abs(sheet.holes[0].from_low[0] - 47.0) < 1e-6);
  CHECK(std::abs(sheet.holes[1].from_high[0] - 47.0) < 1e-6);
  CHECK(std::abs(sheet.holes[0].from_high[0] - 853.0) < 1e-6);
  CHECK(std::abs(sheet.holes[0].to_edge - (47.0 - 14.0)) < 1e-6);
  CHECK(std::abs(sheet.holes[0].to_hole - (spacing(sheet, 0, 3) - 28.0)) < 1e-6);
  REQUIRE(sheet.pairs[0].measured.has_value());
  CHECK(sheet.pairs[0].drop == Drop::free);
  CHECK(std::abs(sheet.pairs[0].spacing - 806.0) < 1e-6);
  // The other pairs are still to be measured.
  CHECK(sheet.drop == Drop::measure_first);
  CHECK_FALSE(sheet.pairs[1].measured.has_value());
}

TEST_CASE("all sides and diagonals of a frame that is out of square are met together") {
  // A parallelogram whose upper side is pushed 4 mm to the right: by Pythagoras.
  std::vector<DrillSheet> sheets = {rectangle()};
  const std::vector<Measured> measured = {{10, 11, 800.0},
                                          {12, 13, 800.0},
                                          {11, 12, std::hypot(4.0, 300.0)},
                                          {10, 13, std::hypot(4.0, 300.0)},
                                          {10, 12, std::hypot(804.0, 300.0)},
                                          {11, 13, std::hypot(796.0, 300.0)}};
  REQUIRE_FALSE(planner::lay_out_measured(sheets, measured));
  for (const planner::DrillPair& pair : sheets.front().pairs) {
    CHECK(std::abs(spacing(sheets.front(), at(pair.first), at(pair.second)) - *pair.measured) < 0.01);
  }
  CHECK(sheets.front().drop == Drop::free);
}

TEST_CASE("spacings that no board has, that are far off, or that cannot be true together are refused, nothing moves") {
  std::vector<DrillSheet> sheets = {rectangle()};
  const auto refused = [&](const std::vector<Measured>& measured) {
    const auto fault = planner::lay_out_measured(sheets, measured);
    REQUIRE(fault.has_value());
    CHECK(sheets.front().holes[0].from_low[0] == 50.0);
    CHECK_FALSE(sheets.front().pairs[0].measured.has_value());
    return fault->kind;
  };
  CHECK(refused({{10, 99, 800.0}}) == MeasuredFault::Kind::no_board);
  CHECK(refused({{10, 11, 760.0}}) == MeasuredFault::Kind::far_off);
  // Sides as drawn, one diagonal 20 mm longer than both: a rectangle's diagonals are alike, a parallelogram's squares
  // sum up to those of its sides.
  CHECK(refused({{10, 11, 800.0},
                 {12, 13, 800.0},
                 {11, 12, 300.0},
                 {10, 13, 300.0},
                 {10, 12, 874.4},
                 {11, 13, 874.4}}) == MeasuredFault::Kind::apart);
}
