// How boards and frames lean on three supports and more. All numbers here are worked out by hand.
#include "planner/fit/fit_slopes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "model/placing/reader.hpp"
#include "planner/fit/fit.hpp"

using namespace dryfit;
using namespace dryfit::planner;

namespace {

bool same_slope(double a, double b, double within = 1e-6) { return std::abs(a - b) < within; }

double steepest(const std::vector<Resting>& all) {
  double slope = 0.0;
  for (const Resting& one : all) slope = std::max(slope, one.slope);
  return slope;
}

TEST_CASE("on three supports a board leans as their plane, steeper than any two of them say") {
  // A narrow triangle: the point lies 100 mm off the middle of a side of 1 m and stands 5 mm high. From either end of
  // the side it rises by 5 over 510 mm, 9.8 mm per m; across the side it rises by 5 over 100, which is 50.
  const auto planes = restings_of({{0, 0, 0}, {1000, 0, 0}, {500, 100, 5}});
  REQUIRE(planes.size() == 1);
  CHECK(same_slope(planes[0].slope, 50.0));
  CHECK(same_slope(planes[0].rock, 0.0));
  // Rise of 3 per m along one axis and 4 along the other: 5 along the steepest line.
  CHECK(same_slope(steepest(restings_of({{0, 0, 0}, {1000, 0, 3}, {0, 1000, 4}})), 5.0));
  // A height that all have in common leans nothing.
  CHECK(same_slope(steepest(restings_of({{0, 0, 7}, {1000, 0, 7}, {0, 1000, 7}})), 0.0));
}

TEST_CASE("on four supports it lies on three, and rocks by what the fourth stays below") {
  // A rectangle of 1000 by 500 with one corner 5 mm high. It lies on the high corner and on two others of the three,
  // never on the three low ones, for the high one stands through their plane. Leans: 5 over 500 or 5 over 1000. The
  // corner opposite on the short side would have to be 5 mm higher to touch.
  const auto planes = restings_of({{0, 0, 0}, {1000, 0, 0}, {1000, 500, 5}, {0, 500, 0}});
  REQUIRE(planes.size() == 2);
  CHECK(same_slope(steepest(planes), 10.0));
  CHECK(same_slope(std::min(planes[0].slope, planes[1].slope), 5.0));
  for (const Resting& plane : planes) CHECK(same_slope(plane.rock, 5.0));
  // One corner low instead: three stay level, and the low one is 5 mm away.
  const auto low = restings_of({{0, 0, 0}, {1000, 0, 0}, {1000, 500, -5}, {0, 500, 0}});
  REQUIRE(low.size() == 2);
  CHECK(same_slope(std::min(low[0].slope, low[1].slope), 0.0));
}

TEST_CASE("supports on one line, or next to it, carry as two") {
  CHECK(restings_of({{0, 0, 0}, {500, 0, 5}, {1000, 0, 0}}).empty());
  CHECK(restings_of({{0, 0, 0}, {500, 24.9, 5}, {1000, 0, 0}}).empty());
  CHECK(restings_of({{0, 0, 0}, {500, 25.1, 5}, {1000, 0, 0}}).size() == 1);
  CHECK(restings_of({{0, 0, 0}, {1000, 0, 1}}).empty());
}

TEST_CASE("what threads stray tilts by the height of the triangle over each support") {
  const auto planes = restings_of({{0, 0, 0}, {1000, 0, 0}, {0, 500, 0}});
  REQUIRE(planes.size() == 1);
  // One support alone: 2 mm over 500 is 4 mm per m, 2 over 1000 is 2.
  CHECK(same_slope(planes[0].at_worst({0, 0, 2}), 4.0));
  CHECK(same_slope(planes[0].at_worst({0, 2, 0}), 2.0));
  // Both: the root of 4 and 2 squared, as likely as at worst, for they tilt square to one another.
  CHECK(same_slope(planes[0].at_worst({0, 2, 2}), std::sqrt(20.0)));
  CHECK(same_slope(planes[0].likely({0, 2, 2}), std::sqrt(20.0)));
  // With the corner of the right angle the other way it adds to both: (2 + 2) over 1000 and (2 + 2) over 500.
  CHECK(same_slope(planes[0].at_worst({2, 2, 2}), std::hypot(4.0, 8.0)));
  CHECK(same_slope(planes[0].likely({2, 2, 2}), std::sqrt(2 * (2.0 * 2.0 + 4.0 * 4.0))));
}

TEST_CASE("a frame on three feet of which one is long leans as the plane of its feet") {
  // Two posts 38.2 in apart (36 in of pipe and twice 1.50 - 0.40), and a third 8.2 in (6 + 2.2) behind the middle of
  // the rail that joins them. Its foot is 0.1 in too long: over 8.2 in, not over the 20 in or so to the next foot.
  const model::Frame frame = model::read_frame(R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 20}, E1: {elbow: right}, R1: {pipe: 16.9}, T: {tee: back}, R2: {pipe: 16.9}, E2: {elbow: down}, P2: {pipe: 20}, F2: flange], to: floor}
  arm: {from: T.back, parts: [R3: {pipe: 6}, E3: {elbow: down}, P3: {pipe: 20.1}, F3: flange], to: floor}
)",
                                               "three feet.yaml");
  const Fit fit = find_fit(frame);
  REQUIRE(fit.levels.size() == 3);
  for (const LevelFit& leg : fit.levels) {
    CAPTURE(leg.between[0]);
    const bool is_long = leg.between[0] == "F3";
    CHECK(same_slope(leg.slope, is_long ? 0.1 / 8.2 * 1000 : 0.0, 1e-3));
    CHECK(same_slope(leg.rock, 0.0, 1e-3));
    // Its own threads tilt the frame over the same 8.2 in.
    if (is_long) CHECK(same_slope(leg.slope_worst, leg.spread.worst / (8.2 * 25.4) * 1000, 1e-3));
  }
}

}  // namespace
