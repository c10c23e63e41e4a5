/// How many people a lift takes: NIOSH Publication 94-110 (revised September 2021, read on pages that reproduce it):
/// 23 kg times 25 cm / H. H = 20 cm + half the width, and nothing beyond 63 cm, are from memory.
#include "planner/base/lifting.hpp"

#include <doctest/doctest.h>

namespace dryfit::planner {
namespace {

constexpr double kInch = 25.4, kPound = 0.45359237;

/// A load so wide from left to right and so deep from front to back, in inches.
Lift load(double pounds, double wide, double deep, double high = 1.0) {
  return lift_of(pounds * kPound, {{0, 0, 0}, {wide * kInch, deep * kInch, high * kInch}});
}

TEST_CASE("one person lifts 23 kg held close, and less in proportion to how far out it is held") {
  CHECK(held_out(0.0) == 250.0);    // no nearer than 25 cm
  CHECK(held_out(100.0) == 250.0);  // 20 + 5 cm
  CHECK(held_out(300.0) == 350.0);
  CHECK(one_person_limit(250.0) == doctest::Approx(23.0));
  CHECK(one_person_limit(500.0) == doctest::Approx(11.5));
  CHECK(one_person_limit(630.0) == doctest::Approx(23.0 * 250.0 / 630.0));
  CHECK(one_person_limit(631.0) == 0.0);
}

TEST_CASE("a top of 59 lb takes two people, though one may lift but 23 lb of it: they hold it by its edges") {
  const Lift top = load(59, 60, 28);
  CHECK(top.held_out == doctest::Approx(200.0 + 14.0 * kInch));
  CHECK(top.limit == doctest::Approx(23.0 * 250.0 / (200.0 + 14.0 * kInch)));
  CHECK(top.people == 2);
}

TEST_CASE("what two people may not lift takes as many as have 23 kg each") {
  CHECK(load(101, 60, 28).people == 2);  // 45.8 kg
  CHECK(load(102, 60, 28).people == 3);  // 46.3 kg
  CHECK(load(143, 60, 30).people == 3);  // 64.9 kg
  CHECK(load(153, 60, 30).people == 4);  // 69.4 kg
}

TEST_CASE("a load is held from its longer side: a deep shelf is harder than a long one of the same weight") {
  CHECK(load(30, 60, 9.25).people == 1);
  CHECK(load(30, 9.25, 60).people == 1);
  CHECK(load(30, 30, 30).people == 2);
}

TEST_CASE("what stands upright is held close, whatever its height and length") {
  CHECK(load(45, 72, 2, 80).people == 1);
  CHECK(load(45, 2, 72, 80).people == 1);
  CHECK(load(52, 72, 2, 80).people == 2);  // 23.6 kg
}

TEST_CASE("what one hand holds takes one person, however wide it is") {
  CHECK(load(6.5, 60, 60).people == 1);
  CHECK(load(7, 60, 60).people == 2);  // 3.2 kg, its middle 962 mm out
}

}  // namespace
}  // namespace dryfit::planner
