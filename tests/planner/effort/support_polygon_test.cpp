#include "planner/effort/support_polygon.hpp"

#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/given_steps.hpp"

namespace dryfit::planner {
namespace {

using test::arm;
using test::Workpiece;
using test::workpiece;

TEST_CASE("the hull of a square with points inside and on its edges has four corners") {
  const auto hull = convex_hull({{0, 0}, {10, 0}, {10, 10}, {0, 10}, {5, 0}, {5, 5}, {10, 5}, {0, 0}});
  CHECK(hull.size() == 4);
  CHECK(depth_inside(hull, {5, 5}) == doctest::Approx(5.0));
  CHECK(depth_inside(hull, {9, 5}) == doctest::Approx(1.0));
  CHECK(depth_inside(hull, {12, 5}) == doctest::Approx(-2.0));
}

TEST_CASE("one foot or two in a line hold nothing up") {
  CHECK(depth_inside({{0, 0}}, {0, 0}) <= 0.0);
  CHECK(depth_inside(convex_hull({{0, 0}, {10, 0}}), {5, 1}) < 0.0);
  CHECK(depth_inside({}, {0, 0}) < 0.0);
}

TEST_CASE("a work stands while its centre of mass is over its feet, and a longer arm tips it") {
  const auto margin = [](const std::string& length) {
    const Workpiece w = workpiece(arm(length));
    const Undoer undoer(w.frame, w.list);
    std::vector<PartId> all;
    for (PartId p = 0; p < static_cast<PartId>(w.frame.parts.size()); ++p) all.push_back(p);
    return stand_of(w.frame, Effort(undoer, 2), all, Pose::standing).margin;
  };
  CHECK(margin("3") > 0.0);
  CHECK(margin("30") < 0.0);
  CHECK(margin("36") < margin("30"));
}

}  // namespace
}  // namespace dryfit::planner
