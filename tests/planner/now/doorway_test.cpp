/// What passes an opening, by measures that anybody can take with a rule.
#include <doctest/doctest.h>

#include <cmath>

#include "model/text/length.hpp"
#include "planner/now/doorway.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/frames/early_frames.hpp"

using namespace dryfit;
using planner::Doorway;
using planner::Opening;
using tests::Example;

namespace {

/// A board of 30 x 9-1/4 x 3/4 in on a trestle whose uprights are 3/4 in pipe.
struct Trestle {
  Example example{tests::trestle_text()};
  model::PartId board = example.part("S").parts.front();
  model::PartId pipe = example.part("B1").parts.front();
  [[nodiscard]] planner::PieceBox box(std::vector<model::PartId> parts, Opening opening) const {
    return Doorway(example.frame, opening).box_of(parts);
  }
  [[nodiscard]] model::Vec3 size() const {
    const model::Board& wood = example.frame.board_of(board);
    return wood.hi - wood.lo;
  }
};

}  // namespace

TEST_CASE("a board passes a slot as high as it is thick and as wide as it is deep, lengthwise") {
  const Trestle t;
  const model::Vec3 size = t.size();  // length, depth, thickness
  CHECK(t.box({t.board}, Opening::door(size.z, size.y)).passes());
  CHECK(t.box({t.board}, Opening::door(size.y, size.z)).passes());
  const planner::PieceBox thin = t.box({t.board}, Opening::door(size.z - 2.0, size.y));
  CHECK_FALSE(thin.passes());
  CHECK(thin.lacks == doctest::Approx(2.0));
  CHECK(thin.edges[0] == doctest::Approx(size.z));
  CHECK(thin.edges[1] == doctest::Approx(size.y));
  CHECK(thin.edges[2] == doctest::Approx(size.x));
  // A third side says how long it may be.
  CHECK(t.box({t.board}, {{size.x, size.z, size.y}}).passes());
  CHECK(t.box({t.board}, {{size.x - 25.0, 9000.0, 8000.0}}).passes());
  CHECK(t.box({t.board}, {{size.x - 25.0, size.z, size.y}}).lacks == doctest::Approx(25.0));
}

TEST_CASE("a pipe passes a round hole's square") {
  // Outside diameter of 3/4 in pipe: 26.67 mm (ASME B36.10M, as published pipe charts give it).
  const Trestle t;
  CHECK(t.box({t.pipe}, Opening::door(26.7, 26.7)).passes());
  CHECK_FALSE(t.box({t.pipe}, Opening::door(26.6, 26.7)).passes());
}

TEST_CASE("an L of two pipes passes leaning where it does not upright") {
  // An elbow with two pipes of 24 in: as it stands its box is about 25 in square. Turned by 45 degrees the two arms lie
  // along the diagonals: the box is as wide as the hypotenuse, and half as deep.
  Example e(
      "dryfit: 1\nname: L\npipe: {standard: npt, size: 3/4}\nruns:\n  one:\n    go: right\n    at: [0, 0, 0]\n"
      "    parts: [A: {pipe: 24}, E: {elbow: up}, B: {pipe: 24}]\n");
  const std::vector<model::PartId> all{0, 1, 2};
  const planner::PieceBox box =
      Doorway(e.frame, Opening::door(3.0 * model::kMmPerInch, 20.0 * model::kMmPerInch)).box_of(all);
  CHECK(box.passes());
  CHECK(box.edges[1] > 17.0 * model::kMmPerInch);
  CHECK(box.edges[2] > 33.0 * model::kMmPerInch);
  CHECK_FALSE(Doorway(e.frame, Opening::door(3.0 * model::kMmPerInch, 16.0 * model::kMmPerInch)).box_of(all).passes());
}

TEST_CASE("whatever passes still passes when a part is left out") {
  const Trestle t;
  std::vector<model::PartId> all;
  for (std::size_t p = 0; p < t.example.frame.parts.size(); ++p) all.push_back(static_cast<model::PartId>(p));
  for (double width = 50.0; width < 1000.0; width += 37.0) {
    const Doorway door(t.example.frame, Opening::door(width, 480.0));
    std::vector<model::PartId> some = all;
    bool passed = door.passes(some);
    while (some.size() > 1) {
      some.pop_back();
      const bool now = door.passes(some);
      CHECK((now || !passed));
      passed = now;
    }
  }
}
