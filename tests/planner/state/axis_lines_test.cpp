#include "planner/state/axis_lines.hpp"

#include <doctest/doctest.h>

#include "model/frame/frame.hpp"

using namespace dryfit;
using model::kRight, model::kUp;

TEST_CASE("an axis line is found from any point of it, along either direction, and from nowhere beside it") {
  planner::AxisLines lines;
  lines.add({0.999, 2.0, 50.0}, kUp, 7);
  CHECK(lines.find({0.999, 2.0, -3000.0}, kUp) == 7);
  CHECK(lines.find({0.999, 2.0, 0.0}, -kUp) == 7);
  CHECK(lines.find({1.04, 1.98, 0.0}, kUp) == 7);            // rounding, on the other side of a whole millimetre
  CHECK(lines.find({1.06, 2.0, 0.0}, kUp) == model::kNone);  // 0.061 off, beyond the 0.05 mm that count as one line
  CHECK(lines.find({0.999, 2.0, 50.0}, kRight) == model::kNone);
}

TEST_CASE("of two axis lines closer than can be told apart the nearer one is found, whichever was there first") {
  planner::AxisLines lines;
  lines.add({0.0, 0.0, 0.0}, kUp, 0);
  lines.add({0.06, 0.0, 0.0}, kUp, 1);
  CHECK(lines.find({0.02, 0.0, 10.0}, kUp) == 0);
  CHECK(lines.find({0.04, 0.0, 10.0}, kUp) == 1);
}
