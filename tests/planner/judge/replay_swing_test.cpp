#include "model/geometry/at.hpp"
#include "planner/judge/replay_swing.hpp"

#include <cmath>
#include <numbers>
#include <random>

#include <doctest/doctest.h>

using namespace dryfit;
using model::Solid;
using model::Vec3;
using planner::judge::quarter_turn_bounds;
using planner::judge::quarter_turn_hits;
using planner::judge::quarter_turn_reach;
using planner::judge::spans_met;
using planner::judge::TurnSpan;

namespace {

constexpr double kStep = std::numbers::pi / 2.0 / 90.0;

/// Turned right-handed about the z line through the pivot.
Vec3 turned_about_z(Vec3 p, Vec3 pivot, double angle) {
  const Vec3 d = p - pivot;
  return {pivot.x + d.x * std::cos(angle) - d.y * std::sin(angle),
          pivot.y + d.x * std::sin(angle) + d.y * std::cos(angle), p.z};
}

/// Strictly inside: bodies that only touch do not meet.
bool inside(const Solid& solid, Vec3 p) {
  constexpr double kSkin = 1e-6;
  if (solid.shape == Solid::Shape::box) {
    for (int i = 0; i < 3; ++i) {
      if (p[i] < solid.a[i] + kSkin || p[i] > solid.b[i] - kSkin) return false;
    }
    return true;
  }
  const Vec3 axis = solid.along.unit();
  const Vec3 d = p - solid.a;
  const double t = dot(d, axis);
  return t >= kSkin && t <= norm(solid.b - solid.a) - kSkin && norm(d - axis * t) <= solid.radius - kSkin;
}

/// Tries points of the box, turned one degree after the other. Finds no hit where there is none; may miss a small one.
bool sampled_hit(const Solid& box, Vec3 pivot, int sense, const Solid& still) {
  constexpr int kPoints = 12;
  for (int angle = 0; angle <= 90; ++angle) {
    for (int i = 0; i <= kPoints; ++i) {
      for (int j = 0; j <= kPoints; ++j) {
        for (int k = 0; k <= kPoints; ++k) {
          const Vec3 f{i / double{kPoints}, j / double{kPoints}, k / double{kPoints}};
          const Vec3 size = box.b - box.a;
          const Vec3 p = box.a + Vec3{size.x * f.x, size.y * f.y, size.z * f.z};
          if (inside(still, turned_about_z(p, pivot, sense * angle * kStep))) return true;
        }
      }
    }
  }
  return false;
}

}  // namespace

TEST_CASE("the reach of a quarter turn is its farthest corner's circle, where that is passed") {
  const Solid board = model::box({0, -10, 0}, {100, 10, 20});
  // The far corner (100, -10) turns through (100.5, 0); going left it never gets below -10.
  CHECK(quarter_turn_reach(board, {}, model::kUp, 1, {1, 0, 0}) == doctest::Approx(std::hypot(100, 10)));
  CHECK(quarter_turn_reach(board, {}, model::kUp, 1, {0, 1, 0}) == doctest::Approx(std::hypot(100, 10)));
  CHECK(quarter_turn_reach(board, {}, model::kUp, 1, {0, -1, 0}) == doctest::Approx(10));
  CHECK(quarter_turn_reach(board, {}, model::kUp, 1, {0, 0, 1}) == doctest::Approx(20));
  const model::Bounds bounds = quarter_turn_bounds(board, {}, model::kUp, -1);
  CHECK(bounds.lo.y == doctest::Approx(-std::hypot(100, 10)));
  CHECK(bounds.hi.y == doctest::Approx(10));
}

TEST_CASE("a post in the quarter that a board sweeps is hit, one outside it is not") {
  const Solid board = model::box({0, -10, 0}, {100, 10, 20});
  const Solid post = model::cylinder({50, 60, -100}, model::kUp, 200, 5);
  // The far corners pass at hypot(100, 10) = 100.5 from the axis, the post stands at hypot(50, 60) = 78.
  CHECK(quarter_turn_hits(board, {}, model::kUp, 1, post, 0.5));
  CHECK_FALSE(quarter_turn_hits(board, {}, model::kUp, -1, post, 0.5));
  SUBCASE("beyond the reach of the far corners") {  // hypot(80, 80) - 5 = 108
    CHECK_FALSE(quarter_turn_hits(board, {}, model::kUp, 1, model::cylinder({80, 80, 0}, model::kUp, 20, 5), 0.5));
  }
  SUBCASE("above the board by as much as it touches") {
    const Solid above = model::cylinder({50, 60, 20}, model::kUp, 200, 5);
    CHECK_FALSE(quarter_turn_hits(board, {}, model::kUp, 1, above, 0.5));
  }
  SUBCASE("overlap of less than what counts as touching") {
    const double grazing = std::hypot(100, 10) + 5.0;
    const double at = grazing / std::numbers::sqrt2;  // 0.2 and 0.9 off each way are overlaps of 0.28 and 1.27
    CHECK_FALSE(
        quarter_turn_hits(board, {}, model::kUp, 1, model::cylinder({at - 0.2, at - 0.2, 0}, model::kUp, 20, 5), 0.5));
    CHECK(
        quarter_turn_hits(board, {}, model::kUp, 1, model::cylinder({at - 0.9, at - 0.9, 0}, model::kUp, 20, 5), 0.5));
  }
}

TEST_CASE("a quarter turn is never called clear where sampled points of the board meet the body") {
  std::mt19937 rng(20);
  const auto within = [&](int lo, int hi) { return lo + static_cast<int>(rng() % static_cast<unsigned>(hi - lo + 1)); };
  int hits = 0, clear = 0;
  for (int round = 0; round < 300; ++round) {
    CAPTURE(round);
    const Solid board = model::box({double(within(-60, 0)), double(within(-60, 0)), 0},
                                   {double(within(20, 200)), double(within(10, 60)), 18});
    const Vec3 corner{double(within(-200, 200)), double(within(-200, 200)), double(within(-40, 20))};
    const model::Direction along = model::all_directions()[dryfit::at(within(0, 17))];
    const Solid still = within(0, 1) == 0
                            ? model::cylinder(corner, along, within(20, 150), within(5, 20))
                            : model::box(corner, corner + Vec3{double(within(5, 80)), double(within(5, 80)), 40});
    const int sense = within(0, 1) == 0 ? 1 : -1;
    const bool judged = quarter_turn_hits(board, {}, model::kUp, sense, still, 0.0);
    if (!judged) CHECK_FALSE(sampled_hit(board, {}, sense, still));
    ++(judged ? hits : clear);
    // What is called a hit is within a sampling step of the points: with the body swollen by that step they meet it.
    if (judged && still.shape == Solid::Shape::cylinder) {
      Solid swollen = still;
      swollen.radius += 25.0;
      swollen.a = still.a - still.along.unit() * 25.0;
      swollen.b = still.b + still.along.unit() * 25.0;
      CHECK(sampled_hit(board, {}, sense, swollen));
    }
  }
  // Floors set by hand: both answers must stay common.
  CHECK(hits > 50);
  CHECK(clear > 50);
}

TEST_CASE("the angles at which a turning box meets a post are those between its edges") {
  // From the axis to (100, 0) half 10 wide; a post of 5 at 60 degrees, 80 out, is met while it is within 10 + 5 of the
  // middle line: asin(15 / 80) = 10.8 degrees to either side. With touching of 0.5: asin(14.5 / 80) = 10.4.
  const Solid board = model::box({0, -10, 0}, {100, 10, 20});
  constexpr double kDegree = std::numbers::pi / 180.0;
  const Solid post =
      model::cylinder({80 * std::cos(60 * kDegree), 80 * std::sin(60 * kDegree), -50}, model::kUp, 200, 5);
  const std::vector<TurnSpan> met = spans_met(board, {}, model::kUp, 1, post, 0.5, {0.0, std::numbers::pi});
  REQUIRE(met.size() == 1);
  CHECK(met[0].from == doctest::Approx((60 - 10.44) * kDegree).epsilon(0.01));
  CHECK(met[0].to == doctest::Approx((60 + 10.44) * kDegree).epsilon(0.01));
  CHECK(spans_met(board, {}, model::kUp, -1, post, 0.5, {0.0, std::numbers::pi}).empty());
  CHECK(spans_met(board, {}, model::kUp, 1, post, 0.5, {0.0, 45 * kDegree}).empty());
}
