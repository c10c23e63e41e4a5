// Holes: places, bits, bearing, wood left, and whether a board drops over its posts.
#include "planner/shop/drill.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <string>

#include "cli/words/told.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "model/text/length.hpp"
#include "tests/support/frames/near.hpp"

using namespace dryfit;
using namespace dryfit::planner;
using tests::near;

namespace {

std::size_t at(int i) { return dryfit::at(i); }
/// A plant rack: two posts 1 in joined by a foot rail, one board on a coupling of each.
std::string rack(const std::string& board, const std::string& right_post = "12", const std::string& surfaces = "") {
  return fmt::format(R"(
dryfit: 1
name: Plant rack
pipe: {{standard: npt, size: 1}}
surfaces:
  floor: {{normal: up, at: 0}}
{}
runs:
  left post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {{pipe: 6}}
      - T1: {{tee: right}}
      - P2: {{pipe: 12}}
      - C1: coupling
      - P3: {{pipe: 6}}
  foot rail:
    from: T1.right
    parts:
      - P4: {{pipe: 24}}
    to: T2.left
  right post:
    from: floor
    parts:
      - FR: flange
      - P5: {{pipe: 6}}
      - T2: {{tee: left}}
      - P6: {{pipe: {}}}
      - C2: coupling
      - P7: {{pipe: 6}}
boards:
  S1:
    through: [P3, P7]
    rests-on: [C1, C2]
{}
)",
                     surfaces, right_post, board);
}

DrillSheet sheet_of(const std::string& text) {
  const model::Frame frame = model::read_frame(text, "rack.yaml");
  const std::vector<DrillSheet> sheets = drill_sheets(frame, find_fit(frame));
  REQUIRE(sheets.size() == 1);
  return sheets[0];
}

const char* const kBoard = "    size: {x: 32, y: 9, z: 3/4}\n    reach: {left: 3, front: 4}";

bool says(const std::vector<planner::Remark>& remarks, const std::string& words) {
  const std::vector<std::string> warnings = cli::told(remarks, model::Units::in);
  for (const std::string& w : warnings) {
    if (w.find(words) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("each hole is measured from two edges, along the board's own axes") {
  const DrillSheet sheet = sheet_of(rack(kBoard));
  CHECK(sheet.low_edges[0] == "left");
  CHECK(sheet.low_edges[1] == "front");
  CHECK(near(sheet.size[0], 32 * model::kMmPerInch));
  REQUIRE(sheet.holes.size() == 2);
  CHECK(near(sheet.holes[0].from_low[0], 3 * model::kMmPerInch));
  CHECK(near(sheet.holes[0].from_low[1], 4 * model::kMmPerInch));
  // The posts stand 24 + 2 x (1.50 - 0.40) = 26.2 in apart.
  // 3 + 26.2 = 29.2, and 32 - 29.2 = 2.8.
  CHECK(near(sheet.holes[1].from_low[0], 29.2 * model::kMmPerInch));
  CHECK(near(sheet.holes[1].from_high[0], 2.8 * model::kMmPerInch));
  CHECK(near(sheet.pairs[0].spacing, 26.2 * model::kMmPerInch));
}

// Common practice, no source: a 1 in pipe slides through a 1-3/8 in hole, its coupling does not.
TEST_CASE("1 in pipe takes a 1-3/8 in bit; the board bears on a ring of its coupling") {
  const DrillSheet sheet = sheet_of(rack(kBoard));
  const DrillHole& hole = sheet.holes[0];
  CHECK(hole.bit == "1-3/8 in");
  CHECK(near(hole.hole, 1.375 * model::kMmPerInch));
  CHECK(near(hole.pipe_od, 1.315 * model::kMmPerInch));
  CHECK(near(hole.clearance, 0.06 * model::kMmPerInch));  // 1.375 - 1.315; the pipe is of ASME B36.10M (secondary)
  // Band 1.771 in, from memory: (1.771 - 1.375) / 2 = 0.198 in of ring.
  CHECK(near(hole.carrier_od, 1.771 * model::kMmPerInch, 0.05));
  CHECK(near(hole.bearing, 0.198 * model::kMmPerInch, 0.05));
  CHECK(hole.warnings.empty());
}

TEST_CASE("a thin ring, a hole near the edge and a hole larger than its coupling are warned of") {
  // Of a band of 1.771 in a hole of 1-5/8 leaves a ring of (1.771 - 1.625) / 2 = 0.073 in, one of 1-7/8 nothing. That
  // 1/8 in is thin is common practice, no source.
  CHECK(says(sheet_of(rack(std::string(kBoard) + "\n    hole: 1-5/8")).holes[0].warnings, "less than 1/8 in"));
  CHECK(says(sheet_of(rack(std::string(kBoard) + "\n    hole: 1-7/8")).holes[0].warnings, "carries nothing"));
  const DrillSheet close = sheet_of(rack("    size: {x: 32, y: 9, z: 3/4}\n    reach: {left: 1-1/2, front: 4}"));
  CHECK(near(close.holes[0].to_edge, (1.5 - 1.375 / 2) * model::kMmPerInch));
  CHECK(says(close.holes[0].warnings, "under one hole diameter"));
}

TEST_CASE("threads can stray further than a snug hole gives, a loose one takes it") {
  const DrillSheet snug = sheet_of(rack(kBoard));
  // The rail's two threads move the post by up to two pitches, the holes give 0.06 in.
  CHECK(near(snug.pairs[0].spread.worst, 2 * model::kMmPerInch / 11.5, 1e-6));
  CHECK(near(snug.pairs[0].slack, 0.06 * model::kMmPerInch));
  CHECK(snug.drop == Drop::measure_first);
  const DrillSheet loose = sheet_of(rack(std::string(kBoard) + "\n    hole: 1-1/2"));
  // 1.5 - 1.315 = 0.185 in, more than 2 / 11.5 = 0.174 in.
  CHECK(near(loose.pairs[0].slack, 0.185 * model::kMmPerInch));
  CHECK(loose.drop == Drop::free);
}

TEST_CASE("holes are laid out for the posts as they stand after turning") {
  // A second rail 0.17 in longer, higher up: two whole turns (2 x 1 / 11.5 in) draw the two together to 0.1 mm, and the
  // posts move.
  std::string text = rack(kBoard);
  const std::string low = "      - P2: {pipe: 12}\n";
  text.replace(text.find(low), low.size(), "      - P2: {pipe: 6}\n      - T3: {tee: right}\n      - P2b: {pipe: 6}\n");
  const std::string right = "      - P6: {pipe: 12}\n";
  text.replace(text.find(right), right.size(),
               "      - P6: {pipe: 6}\n      - T4: {tee: left}\n      - P6b: {pipe: 6}\n");
  text.replace(text.find("boards:"), 0,
               "  upper rail:\n    from: T3.right\n    parts:\n      - P8: {pipe: 24.17}\n    to: T4.left\n");
  const std::size_t runs_end = text.find("  upper rail:");
  REQUIRE(runs_end < text.find("boards:"));
  const model::Frame frame = model::read_frame(text, "rack.yaml");
  const Fit fit = find_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  const std::vector<DrillSheet> sheets = drill_sheets(frame, fit);
  REQUIRE(sheets.size() == 1);
  const model::Frame after = turned(frame, fit.turns);
  const double posts = after.parts[at(after.find("P7"))].centre.x - after.parts[at(after.find("P3"))].centre.x;
  CHECK(near(sheets[0].pairs[0].spacing, posts, 1e-6));
  CHECK(near(sheets[0].pairs[0].posts, posts, 1e-6));
}

TEST_CASE("a board that leans too far for its thickness binds") {
  // The right carrier is 3 in lower, over 26.2 in: more than turning can take away.
  const DrillSheet sheet = sheet_of(rack(kBoard, "9"));
  CHECK(near(sheet.lean, 3 / 26.2 * 1000, 0.1));  // mm per m
  CHECK(sheet.drop == Drop::binds);
  CHECK(says(sheet.warnings, "not square to the posts"));
}

TEST_CASE("a board that goes through the wall is wider than the wall leaves room for") {
  // Of 9 in, 4 lie in front of the posts and 5 behind; the wall stands 4-1/2 behind them.
  const DrillSheet sheet = sheet_of(rack(kBoard, "12", "  wall: {normal: front, at: 4-1/2}"));
  CHECK(says(sheet.warnings, "the board reaches 1/2 in into the wall"));
}

TEST_CASE("metric frames drill with metric bits") {
  // As sold (common practice, no source): 34 and 35 mm, 1-3/8 in of 34.925 mm, nothing of 33 mm.
  CHECK(bit_for(35.0, false) == "35 mm");
  CHECK(bit_for(34.925, true) == "1-3/8 in");
  CHECK(bit_for(34.925, false) == "1-3/8 in");
  CHECK(bit_for(33.0, false).empty());
}
