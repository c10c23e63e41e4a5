// Turns go where there is room. Every frame is drawn by hand; what a fitter would say about it stands beside it.
#include "planner/fit/fit_room.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "model/placing/reader.hpp"
#include "model/text/length.hpp"
#include "planner/fit/fit.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/answers/plain_fit.hpp"

using namespace dryfit;
using namespace dryfit::planner;
using tests::plain_fit;
using tests::read_frame_text;

namespace {

double total(const Fit& fit) {
  double sum = 0.0;
  for (const JointTurn& t : fit.turns) sum += std::abs(t.turns);
  return sum;
}

std::vector<Overlap> overlaps_after(const model::Frame& frame, const Fit& fit) {
  const model::Frame after = turned(frame, fit.turns, fit.shift);
  return overlaps_of(after, contacts_of(after));
}

bool stands_in_the_way(const model::Frame& frame, const Fit& fit, const std::string& id) {
  bool found = false;
  for (const ClosureFit& closure : fit.closures) {
    for (const Overlap& overlap : closure.in_the_way) {
      found = found || overlap.a == frame.find(id) || overlap.b == frame.find(id);
    }
  }
  return found;
}

/// A loop of pipe, lying; its right side has a union, so quarter turns can be taken there. From the back bar a stub
/// with a cap reaches to the wall and touches it. 1 in by hand: engagement 0.400 in, tee and elbow 1.50 in, cap 1.16
/// in. Right side, centre to centre: 4 + 2.125 - 0.8 + 4 + 2 x (1.50 - 0.40) = 11.525 in; from there to the closed end
/// of the cap 1.50 - 0.40 + 3 - 0.40 + 1.16 = 4.86 in: 16.385 in. The left side is `longer` than 9.325 in of pipe.
std::string loop_by_wall(double longer, double wall = 16.385) {
  return fmt::format(R"(
dryfit: 1
name: Drying loop by a wall
pipe: {{standard: npt, size: 1}}
surfaces: {{wall: {{normal: front, at: {:.4f}}}}}
runs:
  loop:
    go: right
    at: [0, 0, 0]
    parts:
      - A: {{pipe: 12.2}}
      - E1: {{elbow: back}}
      - B1: {{pipe: 4}}
      - U: {{union: , measured: {{length: 2-1/8}}}}
      - B2: {{pipe: 4}}
      - E2: {{elbow: left}}
      - C1: {{pipe: 5}}
      - T: {{tee: back}}
      - C2: {{pipe: 5}}
      - E3: {{elbow: front}}
      - D: {{pipe: {:.4f}}}
      - E4: {{elbow: right}}
    to: A.start
  stub:
    from: T.back
    parts:
      - S: {{pipe: 3}}
      - K: cap
)",
                     wall, 9.325 + longer);
}

/// A bar on two posts. The right post cannot give: measured, both of its joints sit at 7.6 turns, wrench-tight, so each
/// takes one turn more at most. It is 3 turns too long, and `above` is what hangs just over the elbows.
std::string bar_under(const std::string& above) {
  // Left: 0.88 - 0.40 + 12 - 0.40 + 1.50 = 13.58 in. Right: 0.88 + 1.50 - 2 x 7.6 / 11.5 + B = 13.58 + 3 / 11.5.
  const double b = 13.58 + 3 / 11.5 - 0.88 - 1.50 + 2 * 7.6 / 11.5;
  return fmt::format(R"(
dryfit: 1
name: Bar
pipe: {{standard: npt, size: 1}}
surfaces:
  floor: {{normal: up, at: 0}}
{}runs:
  bar:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - A: {{pipe: 12}}
      - EL: {{elbow: right}}
      - BAR: {{pipe: 30}}
      - ER: {{elbow: down}}
      - B: {{pipe: {:.5f}, turns: {{start: 7.6, end: 7.6}}}}
      - FR: flange
    to: floor
)",
                     above, b);
}

/// The elbows' upper side: 13.58 in and half a band of 1.771 in.
constexpr double kElbowTop = 13.58 + 1.771 / 2;

}  // namespace

TEST_CASE("turns that push a cap through the wall are taken where there is room") {
  // 1.08 mm or half a turn too long. Backing the right side off by half a turn is the least that closes it, but then
  // the cap stands 1.1 mm in the wall.
  const model::Frame frame = read_frame_text(loop_by_wall(0.0425));
  const Fit blind = plain_fit(frame, false);
  REQUIRE(blind.state == FitState::by_turning);
  CHECK(total(blind) == doctest::Approx(0.5));
  REQUIRE_FALSE(overlaps_after(frame, blind).empty());
  // A quarter of a turn more brings the cap back: far less than to turn the left side, which takes whole turns.
  const Fit fit = plain_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  CHECK(fit.proven);
  CHECK(fit.rechecked);
  CHECK(total(fit) == doctest::Approx(0.75));
  CHECK(overlaps_after(frame, fit).empty());
  CHECK(std::abs(fit.closures[0].left.y) <= 0.5);
  const model::Frame after = turned(frame, fit.turns);
  // Touching counts up to a millimetre: a quarter of a turn, 0.55 mm.
  CHECK(after.parts[static_cast<std::size_t>(after.find("K"))].centre.y <= 16.385 * model::kMmPerInch + 1.0);
}

TEST_CASE("of turnings as short as each other one that backs less off is taken") {
  // 1/8 in or 1.44 turns too long. One turn deeper on the left, and a quarter back on the right, are no more turning
  // than 1-1/4 turns back on the right, which would stay loose.
  const Fit fit = plain_fit(read_frame_text(loop_by_wall(0.125)));
  CHECK(total(fit) == doctest::Approx(1.25));
  double back = 0.0;
  for (const JointTurn& t : fit.turns) back += std::max(0.0, -t.turns);
  CHECK(back == doctest::Approx(0.25));
}

TEST_CASE("where the wall stands farther off, the first turning is kept") {
  const model::Frame frame = read_frame_text(loop_by_wall(0.125, 20));
  CHECK(plain_fit(frame).turns.size() == plain_fit(frame, false).turns.size());
  CHECK(plain_fit(frame).closures[0].in_the_way.empty());
}

TEST_CASE("what turning would push into the ceiling does not fit, and the part in the way is named") {
  const auto ceiling = [](double at) { return fmt::format("  ceiling: {{normal: down, at: {:.4f}}}\n", at); };
  // Two turns the right post gives; the third has to lift the bar by 2.2 mm, and the elbows touch the ceiling.
  const model::Frame frame = read_frame_text(bar_under(ceiling(kElbowTop)));
  CHECK(plain_fit(frame, false).state == FitState::by_turning);
  const Fit fit = plain_fit(frame);
  CHECK(fit.state == FitState::open);
  CHECK(fit.turns.empty());
  CHECK(stands_in_the_way(frame, fit, "EL"));
  CHECK(stands_in_the_way(frame, fit, "ER"));
  CHECK_FALSE(stands_in_the_way(frame, fit, "A"));
  // 2.21 mm less 1 mm that counts as touching: 1.3 mm of room is enough, 1.1 mm is not.
  CHECK(plain_fit(read_frame_text(bar_under(ceiling(kElbowTop + 1.3 / model::kMmPerInch)))).state ==
        FitState::by_turning);
  CHECK(plain_fit(read_frame_text(bar_under(ceiling(kElbowTop + 1.1 / model::kMmPerInch)))).state == FitState::open);
  CHECK(plain_fit(read_frame_text(bar_under(ceiling(20)))).state == FitState::by_turning);
}

TEST_CASE("a shelf on the wall stands in the way like a ceiling") {
  const auto shelf = [](double height) {
    return bar_under("  wall: {normal: front, at: 5}\n") +
           fmt::format("boards:\n  SH: {{size: {{x: 40, y: 9, z: 3/4}}, height: {:.4f}, at: [-4, -4], fix: [wall]}}\n",
                       height);
  };
  const model::Frame frame = read_frame_text(shelf(kElbowTop));
  REQUIRE(overlaps_of(frame, contacts_of(frame)).empty() ==
          false);  // the right foot stands 6.6 mm in the floor as drawn
  const Fit fit = plain_fit(frame);
  CHECK(fit.state == FitState::open);
  CHECK(stands_in_the_way(frame, fit, "SH"));
  const model::Frame higher = read_frame_text(shelf(kElbowTop + 0.125));
  const Fit fits = plain_fit(higher);
  CHECK(fits.state == FitState::by_turning);
  CHECK(overlaps_after(higher, fits).empty());
}

TEST_CASE("what is in one place as drawn, because a gap is open, is judged after the turns") {
  // The right post is 3 turns too long and its foot stands in the floor as drawn; 3 turns later it stands on it.
  const model::Frame frame = read_frame_text(bar_under(""));
  CHECK_FALSE(overlaps_of(frame, contacts_of(frame)).empty());
  const Fit fit = plain_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  CHECK(total(fit) == doctest::Approx(3.0));
  CHECK(overlaps_after(frame, fit).empty());
}

TEST_CASE("a fault of the design that no closure asks to turn stays what it is") {
  // Two posts of one length: all is exact. The bar's elbows stand 3 mm in the ceiling; nothing is turned for that.
  std::string text =
      bar_under(fmt::format("  ceiling: {{normal: down, at: {:.4f}}}\n", kElbowTop - 3.0 / model::kMmPerInch));
  const auto from = text.find("- B: {pipe:");
  text.replace(from, text.find('\n', from) - from, "- B: {pipe: 12}");
  const model::Frame frame = read_frame_text(text);
  const Fit fit = plain_fit(frame);
  CHECK(fit.state == FitState::exact);
  CHECK(fit.turns.empty());
  CHECK_FALSE(overlaps_after(frame, fit).empty());
}

TEST_CASE("past a pipe that lies slantwise beside it an elbow has the room of its roundness") {
  // 1.08 mm or half a turn too long, and no wall near. A rod from the side ends behind and above the left back elbow
  // and touches it: 0.885 + 0.6575 in between the middles, so 1.091 in to the back and up, less 0.6 mm.
  const double aside = (0.885 + 0.6575) * std::sqrt(0.5) - 0.6 * std::sqrt(0.5) / model::kMmPerInch;
  std::string text = loop_by_wall(0.0425, 40);
  text.replace(text.find("surfaces: {"), 11, "surfaces: {side: {normal: right, at: -20}, ");
  text += fmt::format("  rod: {{from: side, at: [{:.4f}, {:.4f}], parts: [G: flange, R: {{pipe: 19.5}}]}}\n",
                      11.525 + aside, aside);
  const model::Frame frame = read_frame_text(text);
  REQUIRE(overlaps_of(frame, contacts_of(frame)).empty());
  // Half a turn back on the right pushes the elbow into the rod: not deep, but by more than counts as touching.
  const Fit blind = plain_fit(frame, false);
  REQUIRE(blind.state == FitState::by_turning);
  CHECK(total(blind) == doctest::Approx(0.5));
  REQUIRE_FALSE(overlaps_after(frame, blind).empty());
  // A turn deeper on the left, and half a turn deeper on the right: the elbow goes to the front, away from the rod.
  const Fit fit = plain_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  CHECK(total(fit) == doctest::Approx(1.5));
  CHECK(overlaps_after(frame, fit).empty());
}
