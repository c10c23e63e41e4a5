/// The oracle's geometry against point clouds and against cases that can be worked out by hand.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/oracle/sampled_motion.hpp"

namespace dryfit::test {
namespace {

constexpr double kFullTurn = 2.0 * std::numbers::pi;

double pick(std::mt19937& rng, int lo, int hi) {
  return lo + static_cast<double>(rng() % static_cast<unsigned>(hi - lo + 1));
}

Solid random_solid(std::mt19937& rng) {
  const Vec3 at{pick(rng, -150, 150), pick(rng, -150, 150), pick(rng, -60, 60)};
  if (rng() % 2 == 0) {
    return model::box(at, at + Vec3{pick(rng, 5, 200), pick(rng, 5, 120), pick(rng, 5, 60)});
  }
  const auto all = model::all_directions();
  return model::cylinder(at, all[rng() % all.size()], pick(rng, 20, 200), pick(rng, 6, 30));
}

/// A point of the solid, spread over all of it.
Vec3 random_point(std::mt19937& rng, const Solid& s) {
  const model::Bounds b = model::bounds_of(s);
  while (true) {
    const auto part = [&](double lo, double hi) { return lo + (hi - lo) * static_cast<double>(rng() % 1001) / 1000.0; };
    const Vec3 p{part(b.lo.x, b.hi.x), part(b.lo.y, b.hi.y), part(b.lo.z, b.hi.z)};
    if (holds_point(s, p)) return p;
  }
}

TEST_CASE("no point of a body that was found clear of another enters it in a turn") {
  std::mt19937 rng(7);
  int hit = 0;
  int clear = 0;
  int entered = 0;
  for (int round = 0; round < 400; ++round) {
    CAPTURE(round);
    const Solid a = random_solid(rng);
    const Solid b = random_solid(rng);
    const auto all = model::all_directions();
    const TurnAxis axis{{pick(rng, -40, 40), pick(rng, -40, 40), 0}, all[rng() % all.size()]};
    const Vec3 shift = axis.along.unit() * pick(rng, -20, 20);
    const bool says_hit = turn_hits_sampled(a, b, axis, shift, kFullTurn, 0.0);
    bool cloud_hit = false;
    for (int i = 0; i < 100 && !cloud_hit; ++i) {
      const Vec3 p = random_point(rng, a);
      for (int k = 0; k < 144 && !cloud_hit; ++k) {
        for (int z = 0; z <= 3 && !cloud_hit; ++z) {
          cloud_hit = holds_point(b, turned(p, axis, kFullTurn * k / 144.0) + shift * (z / 3.0));
        }
      }
    }
    if (cloud_hit) CHECK(says_hit);
    // What hits only when 3 mm bigger all round is clear, and what hits when 3 mm smaller hits.
    if (turn_hits_sampled(a, b, axis, shift, kFullTurn, 3.0)) CHECK(says_hit);
    ++(says_hit ? hit : clear);
    entered += cloud_hit ? 1 : 0;
  }
  // Floors and shares set by hand, here and below: both answers must stay common.
  CHECK(hit >= 80);
  CHECK(clear >= 80);
  // The cloud is coarse, but most real hits are deep: if it found far fewer, the stepping would see ghosts.
  CHECK(entered * 100 >= hit * 85);
}

TEST_CASE("a slide is a hit exactly when some position on the way is") {
  std::mt19937 rng(11);
  int hit = 0;
  for (int round = 0; round < 400; ++round) {
    CAPTURE(round);
    const Solid a = random_solid(rng);
    const Solid b = random_solid(rng);
    const auto all = model::all_directions();
    const Vec3 travel = all[rng() % 6].unit() * pick(rng, 10, 300);
    double nearest = 1e9;
    for (int i = 0; i <= 300; ++i) nearest = std::min(nearest, apart(model::moved(a, travel * (i / 300.0)), b));
    const bool says_hit = slide_hits(a, b, travel, 0.0);
    if (nearest <= 0.0) CHECK(says_hit);
    if (nearest > 1.1) CHECK_FALSE(says_hit);  // the positions lie at most 300 / 300 = 1 mm apart
    hit += says_hit ? 1 : 0;
  }
  CHECK(hit >= 30);
  CHECK(hit <= 320);
}

TEST_CASE("an arm clears a post that stands farther from the axis than the arm reaches, and hits a nearer one") {
  const TurnAxis axis{{0, 0, 0}, model::kUp};
  const Solid arm = model::cylinder({0, 0, 0}, model::kRight, 200, 10);
  const double swing = std::hypot(200.0, 10.0);
  const auto post_at = [](double x) { return model::cylinder({0, x, -50}, model::kUp, 100, 12); };
  // The post's radius is 12: 0.1 beyond the arm's reach, then 0.2 within, which an allowance of 0.5 forgives.
  CHECK_FALSE(turn_hits_sampled(arm, post_at(swing + 12.1), axis, {}, kFullTurn, 0.0));
  CHECK(turn_hits_sampled(arm, post_at(swing + 11.8), axis, {}, kFullTurn, 0.0));
  CHECK_FALSE(turn_hits_sampled(arm, post_at(swing + 11.8), axis, {}, kFullTurn, 0.5));
  // The post stands behind (+y): a quarter turn to the left gets there, one to the right does not.
  CHECK(turn_hits_sampled(arm, post_at(150), axis, {}, kFullTurn / 4, 0.0));
  CHECK_FALSE(turn_hits_sampled(arm, post_at(150), axis, {}, -kFullTurn / 4, 0.0));
}

TEST_CASE("bodies that touch face to face do not hit while one turns flat on the other, and do when shifted into it") {
  const TurnAxis axis{{0, 0, 0}, model::kUp};
  const Solid plate = model::cylinder({0, 0, 0}, model::kUp, 6, 45);
  const Solid board = model::box({-300, -100, -19}, {500, 100, 0});
  CHECK_FALSE(turn_hits_sampled(plate, board, axis, {}, kFullTurn, 0.5));
  CHECK_FALSE(turn_hits_sampled(plate, board, axis, {0, 0, 12}, kFullTurn, 0.5));
  CHECK(turn_hits_sampled(plate, board, axis, {0, 0, -12}, kFullTurn, 0.5));
  CHECK_FALSE(slide_hits(plate, board, {400, 0, 0}, 0.5));
  CHECK(slide_hits(plate, board, {0, 0, -1}, 0.5));
}

TEST_CASE("the reach of a turning box is its farthest corner") {
  const TurnAxis axis{{10, 0, 0}, model::kUp};
  const Solid plank = model::box({-20, -30, 0}, {310, 90, 19});
  const double corner = std::hypot(310.0 - 10.0, 90.0);  // the axis stands at x = 10
  CHECK(std::abs(turn_reach_sampled(plank, axis, {}, kFullTurn, {0, 1, 0}) - corner) < 0.05);
  CHECK(std::abs(turn_reach_sampled(plank, axis, {0, 0, -12}, kFullTurn, {0, 0, -1}) - 12.0) < 1e-9);
  CHECK(std::abs(turn_reach_sampled(plank, axis, {}, 0.0, {0, 1, 0}) - 90.0) < 1e-9);
}

}  // namespace
}  // namespace dryfit::test
