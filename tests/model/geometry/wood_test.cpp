#include "model/geometry/wood.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "model/geometry/convex.hpp"
#include "model/geometry/turn.hpp"
#include "tests/support/frames/solids.hpp"

using namespace dryfit::model;
using dryfit::tests::part_of;

namespace {

/// A board of any lie with holes and slots somewhere in it; they may run into one another and over the edges.
Wood any_wood(std::mt19937& rng) {
  Wood wood;
  wood.normal = static_cast<int>(rng() % 3);
  const int i = (wood.normal + 1) % 3, j = (wood.normal + 2) % 3;
  wood.lo[i] = part_of(rng, -50, 50);
  wood.lo[j] = part_of(rng, -50, 50);
  wood.lo[wood.normal] = part_of(rng, -20, 20);
  wood.hi = wood.lo;
  wood.hi[i] += part_of(rng, 80, 300);
  wood.hi[j] += part_of(rng, 80, 300);
  wood.hi[wood.normal] += 19;
  for (unsigned k = rng() % 4; k-- > 0;) {
    Opening opening;
    opening.radius = part_of(rng, 10, 60);
    opening.centre[i] = part_of(rng, wood.lo[i], wood.hi[i]);
    opening.centre[j] = part_of(rng, wood.lo[j], wood.hi[j]);
    opening.centre[wood.normal] = wood.lo[wood.normal] + 9.5;
    const Direction way = all_directions()[rng() % 6];
    if (rng() % 2 == 0 && way.axis() != wood.normal) opening.open = way;
    wood.openings.push_back(opening);
  }
  return wood;
}

/// How far the point is from the nearest edge of the opening, mm: positive inside it.
double depth_in(const Opening& opening, int normal, Vec3 p) {
  Vec3 off = p - opening.centre;
  off[normal] = 0.0;
  if (opening.open.valid()) {
    const Vec3 way = opening.open.unit();
    const double along = dot(off, way);
    if (along > 0) off = off - way * along;
  }
  return opening.radius - norm(off);
}

bool has_in_it(const Solid& s, Vec3 p) { return distance(s, box(p, p), {}, 1e-9) < 1e-6; }

}  // namespace

TEST_CASE("pieces of a board hold its wood and nothing of its openings but a hair at their round edges") {
  int in_wood = 0, in_opening = 0, askew = 0;
  for (std::uint32_t seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const Wood wood = any_wood(rng);
    const std::vector<Solid> pieces = pieces_of(wood, 0.0, {wood.lo, wood.hi});
    for (const Solid& piece : pieces) askew += piece.shape == Solid::Shape::wedge ? 1 : 0;
    for (int k = 0; k < 200; ++k) {
      const Vec3 p{part_of(rng, wood.lo.x, wood.hi.x), part_of(rng, wood.lo.y, wood.hi.y),
                   part_of(rng, wood.lo.z, wood.hi.z)};
      double depth = -1e300;
      for (const Opening& opening : wood.openings) depth = std::max(depth, depth_in(opening, wood.normal, p));
      const bool found = std::any_of(pieces.begin(), pieces.end(), [&](const Solid& s) { return has_in_it(s, p); });
      if (depth < -1e-5) {
        ++in_wood;
        CHECK(found);
      } else if (depth > kRound + 1e-5 && wood.openings.size() == 1) {
        ++in_opening;
        CHECK_FALSE(found);
      } else if (depth > 1.0) {  // where two openings cross, a strip is cut off straight
        ++in_opening;
        CHECK_FALSE(found);
      }
    }
  }
  // Floors set by hand: every answer must stay common.
  CHECK(in_wood >= 5000);
  CHECK(in_opening >= 3000);
  CHECK(askew >= 1000);
}

TEST_CASE("the volume of the pieces is that of the board less its round hole") {
  // 200 x 100 x 19 less a hole 40 across: 380000 - 19 * pi * 400 = 356124. The chords leave kRound of 20 at most.
  const Wood wood{{0, 0, 0}, {200, 100, 19}, 2, {{{60, 50, 9.5}, 20.0, {}}}};
  double all = 0.0;
  for (const Solid& piece : pieces_of(wood, 0.0, {wood.lo, wood.hi})) all += volume(piece);
  CHECK(all >= 380000 - 19 * 3.14159265 * 400);
  CHECK(all <= 380000 - 19 * 3.14159265 * 400 * (1 - 2 * kRound / 20));
}

TEST_CASE("a tee whose corners reach 44 mm turns and slides in a hole of 99 mm and not in one of 87") {
  // The branch of a tee about the hole's own axis: 41 out, 15.5 in radius: hypot(41, 15.5) = 43.8.
  const Solid branch = cylinder({0, 0, 0}, kRight, 41, 15.5);
  const Solid plank = box({-150, -100, -9.5}, {150, 100, 9.5});
  for (const auto& [across, free] : {std::pair{99.0, true}, std::pair{88.8, true}, std::pair{86.0, false}}) {
    CAPTURE(across);
    const Wood wood{plank.a, plank.b, 2, {{{0, 0, 0}, across / 2, {}}}};
    CHECK(turn_hits({branch}, {plank, &wood}, {{0, 0, 0}, kUp}, 9.0, kTouch) != free);
    CHECK(turn_hits({plank, &wood}, {branch}, {{0, 0, 0}, kUp}, 9.0, kTouch) != free);
    const Solid above = moved(branch, {0, 0, 60});
    CHECK(hits({above}, {plank, &wood}, {0, 0, -120}, kTouch) != free);
    // What does not pass is met by the hole's edge, somewhere between the branch's underside and its middle.
    const double travel = free_travel({plank, &wood}, {above}, kUp, 100, kTouch);
    CHECK((travel == 100.0) == free);
    CHECK(travel > 44.5 - 9.5);
    CHECK((free || travel < 60 - 9.5));
  }
  CHECK(turn_hits(branch, plank, {{0, 0, 0}, kUp}, 9.0, kTouch));
}

TEST_CASE("the end of a slot is round: a square bar meets its corners and a pipe does not") {
  // A slot 40 wide, open to the front, its end a half circle about (100, 60).
  const Solid plank = box({0, 0, 0}, {200, 120, 19});
  const Wood wood{plank.a, plank.b, 2, {{{100, 60, 9.5}, 20.0, kFront}}};
  const Solid pipe = cylinder({100, 60, -50}, kUp, 120, 19.5);
  const Solid bar = box({81, 0, -50}, {119, 79, 70});
  CHECK_FALSE(hits({pipe}, {plank, &wood}, {0, -200, 0}, kTouch));
  CHECK(hits({bar}, {plank, &wood}, {}, kTouch));
  // Where the bar ends level with the centre, the slot is straight and 40 wide.
  CHECK_FALSE(hits({box({81, 0, -50}, {119, 60, 70})}, {plank, &wood}, {0, -200, 0}, kTouch));
}

TEST_CASE("the answer does not depend on which of two bodies moves") {
  int hit = 0, clear = 0;
  for (std::uint32_t seed = 1; seed <= 600; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const auto any_solid = [&] {
      const Vec3 a{part_of(rng, -80, 80), part_of(rng, -80, 80), part_of(rng, -80, 80)};
      if (rng() % 4 == 0) return box(a, a + Vec3{part_of(rng, 8, 60), part_of(rng, 8, 60), part_of(rng, 8, 60)});
      return cylinder(a, all_directions()[rng() % 18], part_of(rng, 10, 80), part_of(rng, 5, 20));
    };
    const Wood wood = any_wood(rng);
    const Solid whole = box(wood.lo, wood.hi), other = any_solid(), third = any_solid();
    const Thing a = seed % 2 == 0 ? Thing{whole, &wood} : Thing{third, nullptr}, b{other, nullptr};
    const double touch = seed % 3 == 0 ? 3.0 : kTouch;
    const Axis axis{{part_of(rng, -30, 30), part_of(rng, -30, 30), part_of(rng, -30, 30)},
                    all_directions()[rng() % 18]};
    const double shift = part_of(rng, -20, 20);
    const bool turned = turn_hits(a, b, axis, shift, touch);
    CHECK(turned == turn_hits(b, a, axis, -shift, touch));
    CHECK(turned == turn_hits(a, b, {axis.point, -axis.along}, -shift, touch));
    const Vec3 sweep = all_directions()[rng() % 18].unit() * part_of(rng, 0, 80);
    CHECK(hits(a, b, sweep, touch) == hits(b, a, -sweep, touch));
    ++(turned ? hit : clear);
  }
  // Floors set by hand: both answers must stay common.
  CHECK(hit >= 100);
  CHECK(clear >= 100);
}
