#include "model/geometry/convex.hpp"

#include <doctest/doctest.h>

#include <random>
#include "tests/support/frames/solids.hpp"

using namespace dryfit::model;
using dryfit::tests::part_of;

namespace {

Vec3 any_point(std::mt19937& rng, double size) {
  return {part_of(rng, -size, size), part_of(rng, -size, size), part_of(rng, -size, size)};
}

Solid any_box_or_rod(std::mt19937& rng) {
  if (rng() % 3 == 0) {
    const Vec3 a = any_point(rng, 60);
    return box(a, a + Vec3{part_of(rng, 5, 60), part_of(rng, 5, 60), part_of(rng, 5, 60)});
  }
  const Direction d = all_directions()[rng() % all_directions().size()];
  return cylinder(any_point(rng, 60), d, part_of(rng, 5, 80), part_of(rng, 4, 20));
}

bool holds(const Solid& s, Vec3 p) {
  if (s.shape == Solid::Shape::box) {
    return p.x >= s.a.x && p.x <= s.b.x && p.y >= s.a.y && p.y <= s.b.y && p.z >= s.a.z && p.z <= s.b.z;
  }
  const Vec3 u = s.along.unit();
  const double z = dot(p - s.a, u);
  return z >= 0 && z <= dot(s.b - s.a, u) && norm(p - s.a - u * z) <= s.radius;
}

/// A point of the solid, spread over its volume and its surface.
Vec3 point_in(const Solid& s, std::mt19937& rng) {
  const Bounds b = bounds_of(s);
  for (;;) {
    Vec3 p{part_of(rng, b.lo.x, b.hi.x), part_of(rng, b.lo.y, b.hi.y), part_of(rng, b.lo.z, b.hi.z)};
    if (holds(s, p)) return p;
  }
}

}  // namespace

TEST_CASE("the gap of two coaxial pipes is the distance of their ends") {
  const Solid a = cylinder({0, 0, 0}, kUp, 100, 13), b = cylinder({0, 0, 104}, kUp, 50, 13);
  // 104 - 100 = 4; an overlap up to 0.5 is no hit, so a sweep must pass 4.5.
  CHECK(distance(a, b) == doctest::Approx(4.0).epsilon(0.005));
  CHECK_FALSE(hits(a, b));
  CHECK_FALSE(hits(a, b, {0, 0, 4.4}));
  CHECK(hits(a, b, {0, 0, 4.6}));
  CHECK(free_travel(a, b, kUp, 50) == doctest::Approx(4.0).epsilon(0.005));
  CHECK(free_travel(a, b, kDown, 50) == 50.0);
}

TEST_CASE("touching is no hit, half a millimetre of overlap is the limit") {
  const Solid board = box({0, 0, 0}, {400, 200, 19});
  CHECK_FALSE(hits(cylinder({100, 100, 19}, kUp, 40, 20), board));
  CHECK_FALSE(hits(cylinder({100, 100, 18.6}, kUp, 40, 20), board));
  CHECK(hits(cylinder({100, 100, 18.4}, kUp, 40, 20), board));
}

TEST_CASE("the gap between pipes that cross is the distance of their axes less both radii") {
  const Solid a = cylinder({-100, 0, 0}, kRight, 200, 13), b = cylinder({0, -100, 40}, kBack, 200, 10);
  // 40 - 13 - 10
  CHECK(distance(a, b) == doctest::Approx(17.0).epsilon(0.002));
}

TEST_CASE("a pair is a hit when sampled points coincide, and never when the distance says so") {
  int met = 0, apart = 0;
  for (std::uint32_t seed = 1; seed <= 400; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const Solid a = any_box_or_rod(rng), b = any_box_or_rod(rng);
    const Vec3 sweep = rng() % 2 == 0 ? Vec3{} : all_directions()[rng() % 18].unit() * part_of(rng, 0, 80);
    const double gap = distance(a, b, sweep);
    bool inside = false;
    double nearest = 1e300;
    for (int i = 0; i < 300; ++i) {
      const Vec3 p = point_in(a, rng) + sweep * part_of(rng, 0, 1), q = point_in(b, rng);
      inside |= holds(b, p);
      nearest = std::min(nearest, norm(p - q));
    }
    CHECK(gap <= nearest + 1e-6);
    if (inside) {
      ++met;
      CHECK(gap == 0.0);
    }
    if (gap > 0) {
      ++apart;
      CHECK_FALSE(hits(a, b, sweep));
    }
  }
  // Floors set by hand: both answers must stay common.
  CHECK(met >= 30);
  CHECK(apart >= 100);
}
