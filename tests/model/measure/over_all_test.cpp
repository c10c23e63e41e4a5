#include "model/measure/over_all.hpp"

#include <doctest/doctest.h>

#include "model/geometry/solid.hpp"

namespace dryfit::model {
namespace {

TEST_CASE("the bounds of two bodies reach as far as either") {
  const Bounds both = joined({{0, 0, 0}, {10, 20, 30}}, {{-5, 5, 5}, {5, 25, 6}});
  CHECK(both.lo == Vec3{-5, 0, 0});
  CHECK(both.hi == Vec3{10, 25, 30});
}

TEST_CASE("a frame is as wide as its bodies together, and a frame without any is nothing") {
  Frame frame;
  CHECK(over_all(frame).hi == Vec3{0, 0, 0});
  Part left, right;
  left.solids.push_back(box({100, 0, 0}, {110, 10, 10}));
  right.solids.push_back(box({200, -5, 2}, {230, 5, 4}));
  frame.parts = {left, right};
  CHECK(over_all(frame).lo == Vec3{100, -5, 0});
  CHECK(over_all(frame).hi == Vec3{230, 10, 10});
}

}  // namespace
}  // namespace dryfit::model
