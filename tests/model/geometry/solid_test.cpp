#include "model/geometry/solid.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace dryfit::model;

namespace {

constexpr double kPi = std::numbers::pi;

bool inside(const Solid& solid, Vec3 p) {
  if (solid.shape == Solid::Shape::box) {
    for (int i = 0; i < 3; ++i) {
      if (p[i] < solid.a[i] || p[i] > solid.b[i]) return false;
    }
    return true;
  }
  const Vec3 axis = solid.b - solid.a;
  const double along = dot(p - solid.a, axis) / dot(axis, axis);
  return along >= 0.0 && along <= 1.0 && norm(p - solid.a - axis * along) <= solid.radius;
}

/// Two unit vectors square to d and to each other, found without square_to.
std::pair<Vec3, Vec3> across(Direction d) {
  const Vec3 u = d.unit();
  const Vec3 other = std::abs(u.x) < 0.5 ? Vec3{1, 0, 0} : std::abs(u.y) < 0.5 ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
  Vec3 v = cross(u, other);
  v = v * (1.0 / norm(v));
  return {v, cross(u, v)};
}

}  // namespace

TEST_CASE("the bounds of a cylinder hold every point of its rims, and no more, in all 18 directions") {
  for (const Direction d : all_directions()) {
    CAPTURE(d.name());
    const Solid solid = cylinder({3.0, -4.0, 5.0}, d, 70.0, 12.0);
    CHECK(norm(solid.b - solid.a) == doctest::Approx(70.0));
    const Bounds bounds = bounds_of(solid);
    const auto [v, w] = across(d);
    Vec3 lo{1e9, 1e9, 1e9};
    Vec3 hi{-1e9, -1e9, -1e9};
    constexpr int kSteps = 3600;
    for (int n = 0; n < kSteps; ++n) {
      const double angle = 2.0 * kPi * n / kSteps;
      const Vec3 rim = (v * std::cos(angle) + w * std::sin(angle)) * solid.radius;
      for (const Vec3 p : {solid.a + rim, solid.b + rim}) {
        for (int i = 0; i < 3; ++i) {
          lo[i] = std::min(lo[i], p[i]);
          hi[i] = std::max(hi[i], p[i]);
        }
      }
    }
    for (int i = 0; i < 3; ++i) {
      CHECK(bounds.lo[i] <= lo[i] + 1e-9);
      CHECK(bounds.hi[i] >= hi[i] - 1e-9);
      CHECK(bounds.lo[i] >= lo[i] - 1e-4);  // 12 (1 - cos(half a step)) is below 1e-5
      CHECK(bounds.hi[i] <= hi[i] + 1e-4);
    }
  }
}

TEST_CASE("the bounds of a box are the box") {
  const Bounds bounds = bounds_of(box({-1, -2, -3}, {4, 5, 6}));
  CHECK(bounds.lo == Vec3{-1, -2, -3});
  CHECK(bounds.hi == Vec3{4, 5, 6});
}

TEST_CASE("volumes follow the formulae of solid geometry and the count of points inside") {
  CHECK(volume(box({0, 0, 0}, {2, 3, 4})) == doctest::Approx(24.0));
  CHECK(volume(cylinder({}, kUp, 10.0, 2.0)) == doctest::Approx(kPi * 4.0 * 10.0));  // Euclid, Elements XII
  for (const Direction d : all_directions()) {
    CAPTURE(d.name());
    const Solid solid = cylinder({0.3, 0.2, 0.1}, d, 20.0, 6.0);
    CHECK(volume(solid) == doctest::Approx(kPi * 36.0 * 20.0));
    const Bounds bounds = bounds_of(solid);
    constexpr int kCells = 60;
    const Vec3 cell = (bounds.hi - bounds.lo) * (1.0 / kCells);
    int count = 0;
    for (int i = 0; i < kCells; ++i) {
      for (int j = 0; j < kCells; ++j) {
        for (int k = 0; k < kCells; ++k) {
          const Vec3 p{bounds.lo.x + (i + 0.5) * cell.x, bounds.lo.y + (j + 0.5) * cell.y,
                       bounds.lo.z + (k + 0.5) * cell.z};
          count += inside(solid, p) ? 1 : 0;
        }
      }
    }
    CHECK(count * cell.x * cell.y * cell.z == doctest::Approx(volume(solid)).epsilon(0.02));
  }
}

TEST_CASE("a shrunk solid loses the same on every side and never turns inside out") {
  const Solid rod = shrunk(cylinder({0, 0, 0}, kRight, 10.0, 3.0), 0.5);
  CHECK(rod.a.x == doctest::Approx(0.5));
  CHECK(rod.b.x == doctest::Approx(9.5));
  CHECK(rod.radius == doctest::Approx(2.5));
  CHECK(rod.along == kRight);

  const Solid slanted = shrunk(cylinder({0, 0, 0}, {1, 0, 1}, 10.0, 3.0), 2.0);
  CHECK(norm(slanted.b - slanted.a) == doctest::Approx(6.0));
  CHECK(slanted.radius == doctest::Approx(1.0));

  const Solid disc = shrunk(cylinder({0, 0, 0}, kUp, 1.0, 0.4), 2.0);
  CHECK(disc.radius == 0.0);
  CHECK(disc.a.z == doctest::Approx(0.5));
  CHECK(disc.b.z == doctest::Approx(0.5));

  const Solid sheet = shrunk(box({0, 0, 0}, {10, 10, 1}), 2.0);
  CHECK(sheet.a.x == doctest::Approx(2.0));
  CHECK(sheet.b.x == doctest::Approx(8.0));
  CHECK(sheet.a.z == doctest::Approx(0.5));
  CHECK(sheet.b.z == doctest::Approx(0.5));
}

TEST_CASE("a moved solid keeps its shape") {
  const Solid rod = cylinder({1, 2, 3}, {0, 1, -1}, 10.0, 3.0);
  const Solid there = moved(rod, {5, -6, 7});
  CHECK(there.a == Vec3{6, -4, 10});
  CHECK(norm((there.b - there.a) - (rod.b - rod.a)) < 1e-12);
  CHECK(there.radius == rod.radius);
  CHECK(there.along == rod.along);
  CHECK(volume(there) == doctest::Approx(volume(rod)));
}
