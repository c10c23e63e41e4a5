/// The full-turn and slide tests against FCL, a general-purpose collision library, which knows neither shadows nor
/// sweeps: it is asked at one place of the motion after another.
#include <doctest/doctest.h>
#include <fcl/narrowphase/collision.h>
#include <fcl/narrowphase/distance.h>

#include <cmath>
#include <numbers>
#include <random>

#include "model/geometry/convex.hpp"
#include "model/geometry/turn.hpp"
#include "tests/support/frames/solids.hpp"

using namespace dryfit::model;
using dryfit::tests::part_of;

namespace {

/// Doubt that the program's answers may leave, mm, and what the library's own arithmetic adds.
constexpr double kDoubt = 0.05, kLibrary = 1e-3;

using Pose = Eigen::Isometry3d;

Eigen::Vector3d as_eigen(Vec3 v) { return {v.x, v.y, v.z}; }

/// A body as the library has it: a shape about its own centre, and where that lies.
struct Body {
  std::shared_ptr<fcl::CollisionGeometryd> shape;
  Pose place;
};

Body body_of(const Solid& s) {
  Pose place = Pose::Identity();
  place.translation() = as_eigen((s.a + s.b) * 0.5);
  if (s.shape == Solid::Shape::box) {
    const Vec3 size = s.b - s.a;
    return {std::make_shared<fcl::Boxd>(size.x, size.y, size.z), place};
  }
  place.linear() = Eigen::Quaterniond::FromTwoVectors(Eigen::Vector3d::UnitZ(), as_eigen(s.along.unit())).matrix();
  return {std::make_shared<fcl::Cylinderd>(s.radius, norm(s.b - s.a)), place};
}

Pose turned_and_shifted(const Axis& axis, double angle, double shift) {
  const Eigen::Vector3d along = as_eigen(axis.along.unit()), point = as_eigen(axis.point);
  return Eigen::Translation3d(point + along * shift) * Eigen::AngleAxisd(angle, along) * Eigen::Translation3d(-point);
}

/// Distance of the two with `a` moved by `motion`; 0 when they meet.
double apart(const Body& a, const Pose& motion, const Body& b) {
  const Pose place = motion * a.place;
  fcl::CollisionRequestd collide;
  fcl::CollisionResultd met;
  if (fcl::collide(a.shape.get(), place, b.shape.get(), b.place, collide, met) > 0) return 0.0;
  fcl::DistanceRequestd request;
  request.distance_tolerance = 1e-4;
  fcl::DistanceResultd result;
  return std::max(0.0, fcl::distance(a.shape.get(), place, b.shape.get(), b.place, request, result));
}

/// Steps through a motion of two parameters, each from 0 to 1: `pose` gives the place, and no point moves farther than
/// `first` and `second` mm in all. Halves the motion as long as the distance in its middle does not clear the rest.
/// True when the two come nearer than `near` anywhere.
template <typename PoseAt>
bool comes_within(const Body& a, const Body& b, const PoseAt& pose, double first, double second, double near) {
  struct Span {
    double u, v, du, dv;
  };
  std::vector<Span> open{{0.5, 0.5, 0.5, 0.5}};
  while (!open.empty()) {
    const Span s = open.back();
    open.pop_back();
    const double gap = apart(a, pose(s.u, s.v), b);
    if (gap < near) return true;
    if (gap > s.du * first + s.dv * second + near) continue;
    if (s.du * first >= s.dv * second) {
      open.push_back({s.u + s.du / 2, s.v, s.du / 2, s.dv});
      open.push_back({s.u - s.du / 2, s.v, s.du / 2, s.dv});
    } else {
      open.push_back({s.u, s.v + s.dv / 2, s.du, s.dv / 2});
      open.push_back({s.u, s.v - s.dv / 2, s.du, s.dv / 2});
    }
  }
  return false;
}

/// Bodies of the sizes and directions that frames have.
Solid any_solid(std::mt19937& rng) {
  const Vec3 a{part_of(rng, -80, 80), part_of(rng, -80, 80), part_of(rng, -80, 80)};
  switch (rng() % 4) {
    case 0: return box(a, a + Vec3{part_of(rng, 8, 200), part_of(rng, 8, 120), part_of(rng, 8, 60)});
    case 1: return cylinder(a, all_directions()[rng() % 6], part_of(rng, 6, 120), part_of(rng, 5, 45));
    default: return cylinder(a, all_directions()[rng() % 18], part_of(rng, 10, 120), part_of(rng, 5, 25));
  }
}

struct Tally {
  int hit = 0, clear = 0;
};

void compare_turns(std::uint32_t first, std::uint32_t last, Tally& tally) {
  for (std::uint32_t seed = first; seed <= last; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const Solid moving = any_solid(rng), still = any_solid(rng);
    const Axis axis{{part_of(rng, -30, 30), part_of(rng, -30, 30), part_of(rng, -30, 30)},
                    all_directions()[rng() % 18]};
    const double shift = part_of(rng, -20, 20);
    const Body a = body_of(shrunk(moving, kTouch / 2)), b = body_of(shrunk(still, kTouch / 2));
    const auto pose = [&](double u, double v) {
      return turned_and_shifted(axis, u * 2.0 * std::numbers::pi, v * shift);
    };
    if (!turn_hits(moving, still, axis, shift, kTouch)) {
      ++tally.clear;
      bool met = false;
      for (int step = 0; step < 90 && !met; ++step) {
        for (const double v : {0.0, 0.5, 1.0}) met = met || apart(a, pose(step / 90.0, v), b) == 0.0;
      }
      CHECK_FALSE(met);
    } else {
      ++tally.hit;
      const double round = 2.0 * std::numbers::pi * swing_radius(moving, axis);
      CHECK(comes_within(a, b, pose, round, std::abs(shift), kDoubt + kLibrary));
    }
  }
}

void compare_slides(std::uint32_t first, std::uint32_t last, Tally& tally) {
  for (std::uint32_t seed = first; seed <= last; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const Solid moving = any_solid(rng), still = any_solid(rng);
    const Vec3 sweep = all_directions()[rng() % 6].unit() * part_of(rng, 5, 300);
    const Body a = body_of(shrunk(moving, kTouch / 2)), b = body_of(shrunk(still, kTouch / 2));
    const auto pose = [&](double u, double) {
      Pose p = Pose::Identity();
      p.translation() = as_eigen(sweep * u);
      return p;
    };
    if (!hits(moving, still, sweep)) {
      ++tally.clear;
      bool met = false;
      for (int step = 0; step <= 60 && !met; ++step) met = apart(a, pose(step / 60.0, 0.0), b) == 0.0;
      CHECK_FALSE(met);
    } else {
      ++tally.hit;
      CHECK(comes_within(a, b, pose, norm(sweep), 0.0, kLibrary));
    }
  }
}

/// A seventh and a tenth are floors set by hand: where one answer is rare the comparison proves little.
void both_answers_are_common(const Tally& tally, int pairs) {
  CHECK(tally.hit + tally.clear == pairs);
  CHECK(7 * tally.hit >= pairs);
  CHECK(10 * tally.clear >= pairs);
}

}  // namespace

TEST_CASE("a full turn is clear only where the collision library meets nothing, and a hit only where it comes near") {
  Tally tally;
  compare_turns(1, 400, tally);
  both_answers_are_common(tally, 400);
}

TEST_CASE("a slide is clear only where the collision library meets nothing, and a hit only where it meets") {
  Tally tally;
  compare_slides(1, 400, tally);
  both_answers_are_common(tally, 400);
}

TEST_SUITE("slow") {
  TEST_CASE("full turns and slides of ten thousand random pairs agree with the collision library") {
    Tally turns, slides;
    compare_turns(1001, 11000, turns);
    compare_slides(1001, 11000, slides);
    both_answers_are_common(turns, 10000);
    both_answers_are_common(slides, 10000);
  }
}
