#include "model/geometry/turn.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "model/geometry/convex.hpp"
#include "tests/support/frames/solids.hpp"

using namespace dryfit::model;
using dryfit::tests::part_of;

namespace {

Vec3 turned_about(Vec3 p, const Axis& axis, double angle) {
  const Vec3 a = axis.along.unit();
  const Vec3 d = p - axis.point;
  // Rodrigues' rotation formula.
  return axis.point + d * std::cos(angle) + cross(a, d) * std::sin(angle) + a * (dot(a, d) * (1 - std::cos(angle)));
}

bool holds(const Solid& s, Vec3 p, double slack) {
  if (s.shape == Solid::Shape::box) {
    return p.x >= s.a.x - slack && p.x <= s.b.x + slack && p.y >= s.a.y - slack && p.y <= s.b.y + slack &&
           p.z >= s.a.z - slack && p.z <= s.b.z + slack;
  }
  const Vec3 u = s.along.unit();
  const double z = dot(p - s.a, u);
  return z >= -slack && z <= dot(s.b - s.a, u) + slack && norm(p - s.a - u * z) <= s.radius + slack;
}

Solid any_turned_solid(std::mt19937& rng) {
  const Vec3 a{part_of(rng, -80, 80), part_of(rng, -80, 80), part_of(rng, -80, 80)};
  if (rng() % 3 == 0) return box(a, a + Vec3{part_of(rng, 8, 60), part_of(rng, 8, 60), part_of(rng, 8, 60)});
  return cylinder(a, all_directions()[rng() % 18], part_of(rng, 10, 80), part_of(rng, 5, 20));
}

/// Points all over the solid: a grid in its own coordinates, faces included.
std::vector<Vec3> points_of(const Solid& s, int n) {
  std::vector<Vec3> points;
  if (s.shape == Solid::Shape::box) {
    for (int i = 0; i <= n; ++i) {
      for (int j = 0; j <= n; ++j) {
        for (int k = 0; k <= n; ++k) {
          const auto at = [&](int axis, int step) { return s.a[axis] + (s.b[axis] - s.a[axis]) * step / n; };
          points.push_back({at(0, i), at(1, j), at(2, k)});
        }
      }
    }
    return points;
  }
  const Vec3 u = s.along.unit();
  const Vec3 h = std::abs(u.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  Vec3 e = cross(u, h);
  e = e * (1.0 / norm(e));
  const Vec3 f = cross(u, e);
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; j <= n / 2; ++j) {
      for (int k = 0; k < 24; ++k) {
        const double r = s.radius * j / (n / 2), t = 2 * std::numbers::pi * k / 24;
        points.push_back(s.a + (s.b - s.a) * (1.0 * i / n) + e * (r * std::cos(t)) + f * (r * std::sin(t)));
      }
    }
  }
  return points;
}

}  // namespace

TEST_CASE("a pipe across the axis swings as far as its farthest corner") {
  // 300 mm long, 13 mm radius, starting 20 mm from the axis: hypot(320, 13).
  const Axis axis{{0, 0, 0}, kUp};
  CHECK(swing_radius(cylinder({20, 0, 0}, kRight, 300, 13), axis) == doctest::Approx(std::hypot(320, 13)));
}

TEST_CASE("a flange plate stays flat: it does not bulge through its own floor") {
  const Solid plate = cylinder({0, 0, 0}, kUp, 6, 43);
  CHECK(turn_reach(plate, {{0, 0, 10}, kUp}, 9.0, kDown.unit()) == doctest::Approx(0.0));
  CHECK(turn_reach(plate, {{0, 0, 10}, kUp}, -9.0, kDown.unit()) == doctest::Approx(9.0));
}

TEST_CASE("a beam clears a post beyond its swing and hits one within") {
  const Solid beam = cylinder({0, 0, 100}, kRight, 500, 13);
  const Axis axis{{0, 0, 0}, kUp};
  // The beam reaches hypot(500, 13) = 500.2; the posts begin at 520 - 13 = 507 and 505 - 13 = 492.
  CHECK_FALSE(turn_hits(beam, cylinder({0, 520, 0}, kUp, 300, 13), axis, 10.0, kTouch));
  CHECK(turn_hits(beam, cylinder({0, 505, 0}, kUp, 300, 13), axis, 10.0, kTouch));
  // Above the swept disc, whose top is at 100 + 13: out of reach until the shift carries the beam up to it.
  CHECK_FALSE(turn_hits(beam, cylinder({0, 200, 114}, kUp, 300, 13), axis, 0.0, kTouch));
  CHECK(turn_hits(beam, cylinder({0, 200, 114}, kUp, 300, 13), axis, 10.0, kTouch));
}

TEST_CASE("a full turn is a hit when sampled points meet, and never when it is called clear") {
  int met = 0, clear = 0;
  for (std::uint32_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const Solid s = any_turned_solid(rng), h = any_turned_solid(rng);
    const Axis axis{{part_of(rng, -30, 30), part_of(rng, -30, 30), part_of(rng, -30, 30)},
                    all_directions()[rng() % 18]};
    const double shift = part_of(rng, -20, 20);
    const bool hit = turn_hits(s, h, axis, shift, kTouch);
    bool deep = false;
    const Solid core = shrunk(s, kTouch / 2), inner = shrunk(h, kTouch / 2);
    for (const Vec3 p : points_of(core, 6)) {
      for (int step = 0; step < 72 && !deep; ++step) {
        for (const double t : {0.0, 0.5, 1.0}) {
          deep |=
              holds(inner, turned_about(p, axis, step * std::numbers::pi / 36) + axis.along.unit() * (shift * t), 0.0);
        }
      }
    }
    if (deep) {
      ++met;
      CHECK(hit);
    }
    if (!hit) {
      ++clear;
      CHECK_FALSE(deep);
    }
    // Swing and reach are never below what any point reaches.
    const double r = swing_radius(s, axis);
    const Vec3 out = all_directions()[rng() % 6].unit();
    const double reach = turn_reach(s, axis, shift, out);
    double best = -1e300;
    for (const Vec3 p : points_of(s, 6)) {
      const Vec3 d = p - axis.point;
      CHECK(norm(d - axis.along.unit() * dot(d, axis.along.unit())) <= r + 1e-6);
      for (int step = 0; step < 36; ++step) {
        for (const double t : {0.0, 1.0}) {
          best = std::max(
              best, dot(turned_about(p, axis, step * std::numbers::pi / 18) + axis.along.unit() * (shift * t), out));
        }
      }
    }
    CHECK(best <= reach + 1e-6);
    CHECK(best >= reach - 6.0);  // the grid is coarse; a bound that is far too large would show
  }
  // Floors set by hand: both answers must stay common.
  CHECK(met >= 60);
  CHECK(clear >= 60);
}
