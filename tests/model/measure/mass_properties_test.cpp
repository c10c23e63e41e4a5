#include "model/measure/mass_properties.hpp"

#include <doctest/doctest.h>

#include <cmath>

namespace dryfit::model {
namespace {

bool in_proportion(double a, double b, double by = 1e-9) { return std::abs(a - b) <= by * (1.0 + std::abs(b)); }

Axis axis(Vec3 point, Direction along) { return {point, along}; }

// Formulae: table of moments of inertia, The Concise Oxford Dictionary of Mathematics, appendix 3 (rod, disc, lamina);
// cylinder and tube as in the tables of mechanics handbooks (from memory; they agree with the dictionary in the limit).
TEST_CASE("a full cylinder has half m r squared about its axis and m r^2 / 4 + m l^2 / 12 across it") {
  const MassProperties c = tube(8.0, {0, 0, 0}, {0, 0, 600}, 50.0, 0.0);
  CHECK(in_proportion(inertia_about(c, axis({0, 0, 0}, kUp)), 0.5 * 8.0 * 0.05 * 0.05));
  CHECK(in_proportion(inertia_about(c, axis({0, 0, 300}, kRight)), 8.0 * 0.05 * 0.05 / 4.0 + 8.0 * 0.6 * 0.6 / 12.0));
}

TEST_CASE("a thin rod has a twelfth of m l squared about its middle and a third about its end") {
  const MassProperties rod = tube(3.0, {0, 0, 0}, {1000, 0, 0}, 0.0, 0.0);
  CHECK(in_proportion(inertia_about(rod, axis({500, 0, 0}, kUp)), 3.0 / 12.0));
  CHECK(in_proportion(inertia_about(rod, axis({0, 0, 0}, kUp)), 3.0 / 3.0));
  CHECK(in_proportion(inertia_about(rod, axis({0, 0, 0}, kRight)), 0.0));
}

TEST_CASE("a tube has half m (R^2 + r^2) about its axis and becomes a hoop when its wall is thin") {
  const MassProperties t = tube(2.0, {0, 0, 0}, {0, 400, 0}, 30.0, 25.0);
  CHECK(in_proportion(inertia_about(t, axis({0, 0, 0}, kBack)), 0.5 * 2.0 * (0.03 * 0.03 + 0.025 * 0.025)));
  CHECK(in_proportion(inertia_about(t, axis({0, 200, 0}, kUp)),
                      2.0 * (3.0 * (0.03 * 0.03 + 0.025 * 0.025) + 0.4 * 0.4) / 12.0));
  const MassProperties hoop = tube(2.0, {0, 0, 0}, {0, 1, 0}, 30.0, 30.0);
  CHECK(in_proportion(inertia_about(hoop, axis({0, 0, 0}, kBack)), 2.0 * 0.03 * 0.03));
}

TEST_CASE("a rectangular plate has m (l^2 + b^2) / 12 about the axis through its middle, square to it") {
  const MassProperties plate = slab(6.0, {0, 0, 0}, {900, 300, 20});
  CHECK(in_proportion(inertia_about(plate, axis({450, 150, 0}, kUp)), 6.0 * (0.9 * 0.9 + 0.3 * 0.3) / 12.0));
  CHECK(in_proportion(inertia_about(plate, axis({0, 150, 10}, kRight)), 6.0 * (0.3 * 0.3 + 0.02 * 0.02) / 12.0));
}

TEST_CASE("the parallel axis theorem moves an axis by m d squared") {
  const MassProperties c = tube(5.0, {0, 0, 0}, {0, 0, 200}, 40.0, 0.0);
  CHECK(in_proportion(inertia_about(c, axis({300, 400, 0}, kUp)), 0.5 * 5.0 * 0.04 * 0.04 + 5.0 * 0.25));
}

// A child of 25 kg stands 1.0 m off the middle of a turntable of 500 kg and 2.0 m radius: 1025 kg m^2.
// OpenStax, University Physics Volume 1, section 10.5, worked example (from memory).
TEST_CASE("a child on a merry-go-round adds up as in the textbook") {
  MassProperties both = tube(500.0, {0, 0, 0}, {0, 0, 100}, 2000.0, 0.0);
  MassProperties child;
  child.mass = 25.0;
  child.centre = {1000, 0, 500};
  both += child;
  CHECK(in_proportion(inertia_about(both, axis({0, 0, 0}, kUp)), 1025.0));
  CHECK(in_proportion(both.mass, 525.0));
}

TEST_CASE("the centre of mass of two bodies divides their distance inversely to their masses") {
  MassProperties bar = tube(1.0, {0, 0, 0}, {100, 0, 0}, 5.0, 0.0);
  bar += tube(3.0, {400, 0, 0}, {500, 0, 0}, 5.0, 0.0);
  CHECK(in_proportion(bar.centre.x, (1.0 * 50.0 + 3.0 * 450.0) / 4.0));
  CHECK(in_proportion(bar.centre.y, 0.0));
}

// Exercise 9.31 of Young and Freedman, University Physics, 13th edition: a thin rod of 2.50 kg and 75.0 cm has
// 0.469 kg m^2 about its end and 0.117 kg m^2 about its middle.
TEST_CASE("a thin rod of 2.50 kg and 75.0 cm has the moments of inertia of the textbook") {
  const MassProperties rod = tube(2.50, {0, 0, 0}, {750, 0, 0}, 0.0, 0.0);
  CHECK(std::abs(inertia_about(rod, axis({0, 0, 0}, kUp)) - 0.469) < 0.0005);
  CHECK(std::abs(inertia_about(rod, axis({375, 0, 0}, kUp)) - 0.117) < 0.0005);
}

// Problem 109a of chapter 9 of Halliday, Resnick and Walker, Fundamentals of Physics, 10th edition: with 5.98e24 kg and
// 7.36e22 kg, 3.82e8 m apart, the centre of mass of earth and moon is 4.64e6 m from the middle of the earth.
TEST_CASE("the centre of mass of earth and moon is where the textbook has it") {
  MassProperties both, moon;
  both.mass = 5.98e24;
  moon.mass = 7.36e22;
  moon.centre = {3.82e8, 0, 0};
  both += moon;
  CHECK(std::abs(both.centre.x - 4.64e6) < 0.005e6);
}

TEST_CASE("a body put together from two halves is the whole body, about any of the 18 directions") {
  const MassProperties whole = tube(4.0, {10, 20, 30}, {10, 20, 830}, 25.0, 20.0);
  MassProperties halves = tube(2.0, {10, 20, 30}, {10, 20, 430}, 25.0, 20.0);
  halves += tube(2.0, {10, 20, 430}, {10, 20, 830}, 25.0, 20.0);
  for (const Direction d : all_directions()) {
    CHECK(in_proportion(inertia_about(halves, axis({-7, 90, 11}, d)), inertia_about(whole, axis({-7, 90, 11}, d)),
                        1e-12));
  }
}

TEST_CASE("a slanting rod is turned about the upright like its shadow on the floor") {
  // Only the distance from the axis counts: a rod at 45 degrees of 1 m spreads 1/sqrt(2) m.
  const Direction slant{1, 0, 1};
  const Vec3 end = slant.unit() * 1000.0;
  const MassProperties rod = tube(3.0, {0, 0, 0}, end, 0.0, 0.0);
  CHECK(in_proportion(inertia_about(rod, axis({0, 0, 0}, kUp)), 3.0 / 3.0 * 0.5));
}

}  // namespace
}  // namespace dryfit::model
