#include "model/geometry/direction.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

using namespace dryfit::model;

TEST_CASE("every one of the 18 directions has one name and is found by it") {
  std::set<std::string> names;
  std::set<Direction> directions;
  for (const Direction d : all_directions()) {
    CAPTURE(d.name());
    CHECK(d.valid());
    names.insert(d.name());
    directions.insert(d);
    const auto again = direction_named(d.name());
    REQUIRE(again.has_value());
    CHECK(*again == d);
    CHECK(norm(d.unit()) == doctest::Approx(1.0).epsilon(1e-15));
    CHECK(directions.count(d) == 1);
  }
  // 6 along the axes, 12 halfway between two of them.
  CHECK(names.size() == 18);
  CHECK(directions.size() == 18);
}

TEST_CASE("names go vertical first, then left or right, then front or back") {
  CHECK(Direction{1, 0, 1}.name() == "up-right");
  CHECK(Direction{0, -1, -1}.name() == "down-front");
  CHECK(Direction{-1, 1, 0}.name() == "left-back");
  for (const char* wrong :
       {"right-up", "front-down", "back-left", "up-down", "Up", "", "north", "up-", "up-right-back"}) {
    CAPTURE(wrong);
    CHECK_FALSE(direction_named(wrong).has_value());
  }
}

TEST_CASE("the axes are right-handed: right x back = up") {
  CHECK(square_to(kRight, kBack) == kUp);
  CHECK(square_to(kBack, kUp) == kRight);
  CHECK(square_to(kUp, kRight) == kBack);
}

TEST_CASE("square_to of every square pair is square to both and right-handed") {
  int pairs = 0;
  for (const Direction a : all_directions()) {
    for (const Direction b : all_directions()) {
      if (!square(a, b)) continue;
      CAPTURE(a.name());
      CAPTURE(b.name());
      ++pairs;
      const Direction c = square_to(a, b);
      CHECK(c.valid());
      CHECK(square(a, c));
      CHECK(square(b, c));
      CHECK(square_to(b, a) == -c);
      const Vec3 real = cross(a.unit(), b.unit());
      CHECK(norm(real - c.unit()) < 1e-12);
    }
  }
  // By hand: an axis is square to 4 axes and 4 of 45 degrees; one of 45 degrees to 2 axes and 2 of its kind.
  CHECK(pairs == 6 * 8 + 12 * 4);
}

TEST_CASE("45 degrees means one along an axis and the other halfway to a second axis") {
  int pairs = 0;
  for (const Direction a : all_directions()) {
    for (const Direction b : all_directions()) {
      const double cosine = dot(a.unit(), b.unit());
      const bool expected = std::abs(cosine - std::sqrt(0.5)) < 1e-12;
      CAPTURE(a.name());
      CAPTURE(b.name());
      CHECK(at_45(a, b) == expected);
      pairs += at_45(a, b) ? 1 : 0;
    }
  }
  // By hand: each of the 6 axes has 4 directions of 45 degrees beside it; every pair is met twice.
  CHECK(pairs == 2 * 6 * 4);
}
