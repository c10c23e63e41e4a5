// Nothing depends on the order of runs, boards, keys or names in the file.
#include "model/placing/natural_order.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/placed.hpp"
#include "tests/support/frames/random_frames.hpp"
#include "tests/support/frames/rewritten.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

std::string text_of(Vec3 v) { return fmt::format("({:a} {:a} {:a})", v.x, v.y, v.z); }

void add(std::string& out, const Part& part) {
  out += fmt::format("part {} {} {} mass {:a} length {:a} run {} mate {} at {}\n", word_for(part.kind), part.size,
                     part.measured, part.mass, part.length, part.run, part.union_mate, text_of(part.centre));
  for (const Port& p : part.ports) {
    out += fmt::format("  port {} {} {} joint {} {}\n", p.facing.name(), p.male, p.size, p.joint, text_of(p.at));
  }
  for (const Solid& s : part.solids) out += fmt::format("  body {} {} {:a}\n", text_of(s.a), text_of(s.b), s.radius);
}

void add(std::string& out, const Board& board) {
  out += fmt::format("board {} {} {} {} stock {}\n", board.part, text_of(board.lo), text_of(board.hi),
                     fmt::join(board.given_by, " "), board.stock);
  for (const Hole& hole : board.holes) {
    out += fmt::format("  hole {} {:a} {} {}\n", hole.pipe, hole.diameter, hole.notch, text_of(hole.centre));
  }
  out += fmt::format("  on {}\n", fmt::join(board.carriers, " "));
}

/// Everything of a placed frame but names and lines, to the last bit.
std::string likeness(const Frame& frame) {
  std::string out;
  for (const Part& part : frame.parts) add(out, part);
  for (const PlacedBy& by : frame.placed_by) out += fmt::format("by {} {}\n", by.parent, by.joint);
  for (const Joint& j : frame.joints) {
    out +=
        fmt::format("joint {} {} {} {} {:a} {}\n", j.male, j.male_port, j.female, j.female_port, j.engaged, j.closing);
  }
  for (const Board& board : frame.boards) add(out, board);
  for (const Closure& c : frame.closures) {
    out += fmt::format("closure {} {} {} {} {} {}\n", static_cast<int>(c.kind), c.joint, c.part, c.other, c.surface,
                       text_of(c.gap));
  }
  for (const Fastening& f : frame.fastenings) {
    out += fmt::format("fastening {} {} {} {} {}\n", static_cast<int>(f.kind), f.part, f.other, f.surface, f.count);
  }
  for (const Surface& s : frame.surfaces) out += fmt::format("surface {} {:a}\n", s.normal.name(), s.at);
  return out;
}

void stays_itself(const std::string& text, std::mt19937& rng, int times) {
  const std::string as_written = likeness(read_frame(text, "f.yaml"));
  for (int i = 0; i < times; ++i) {
    const std::string lines = in_other_lines(text, rng);
    CAPTURE(lines);
    CHECK(likeness(read_frame(lines, "f.yaml")) == as_written);
    const std::string names = under_other_names(lines, rng);
    CAPTURE(names);
    CHECK(likeness(read_frame(names, "f.yaml")) == as_written);
  }
}

TEST_CASE("every scenario is the same frame to the last bit in other lines and under other names") {
  std::mt19937 rng(816);
  int scenarios = 0;
  for (const auto& entry : std::filesystem::directory_iterator(DRYFIT_SOURCE_DIR "/scenarios")) {
    const std::string path = entry.path().string();
    if (path.find(".expect.") != std::string::npos) continue;
    CAPTURE(path);
    std::ifstream file(path);
    stays_itself((std::stringstream() << file.rdbuf()).str(), rng, 12);
    ++scenarios;
  }
  CHECK(scenarios >= 14);
}

TEST_CASE("random frames are the same to the last bit in other lines and under other names") {
  std::mt19937 rng(817);
  for (std::uint32_t seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    stays_itself(random_frame(seed, {3, 18}).text, rng, 2);
  }
}

TEST_CASE("a right post that comes first in the file still stands where the rail puts it") {
  // Without `at` it hangs on the rail; at the origin it would stand in the left post.
  const Frame frame = read_frame(kHead + R"(runs:
  right: {from: floor, parts: [F2: flange, P2: {pipe: 6}, T2: {tee: left}]}
  rail: {from: T1.right, parts: [R: {pipe: 30}], to: T2.left}
  left: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 6}, T1: {tee: right}]}
)",
                                 "f.yaml");
  // Post to post: 1.31 - 0.339 + 30 - 0.339 + 1.31 = 31.942.
  CHECK(near(part(frame, "F2").centre, inch(31.942, 0, 0)));
  CHECK(frame.find("F1") < frame.find("R"));
  CHECK(frame.find("R") < frame.find("F2"));
}

TEST_CASE("without any `at` the frame itself says which of two posts begins") {
  const std::string left = "  b: {from: floor, parts: [F1: flange, P1: {pipe: 6}, T1: {tee: right}]}\n";
  const std::string rail = "  c: {from: T1.right, parts: [R: {pipe: 30}], to: T2.left}\n";
  const std::string right = "  a: {from: floor, parts: [F2: flange, P2: {pipe: 6}, T2: {tee: left}]}\n";
  std::vector<std::string> runs{left, rail, right};
  std::sort(runs.begin(), runs.end());
  do {
    const Frame frame = read_frame(kHead + "runs:\n" + runs[0] + runs[1] + runs[2], "f.yaml");
    // The walk from the left post begins with a tee to the right, and right comes before left.
    CHECK(near(part(frame, "F1").centre, {}));
    CHECK(near(part(frame, "F2").centre, inch(31.942, 0, 0)));
    CHECK(frame.placed_by[0].loose == std::array{true, true, false});
  } while (std::next_permutation(runs.begin(), runs.end()));
}

TEST_CASE("of two alike posts on a rail each end decides, not the name") {
  // The rails make a ring that is 1 in wider above: the gap has to open at the same joint whatever comes first.
  const std::string text = kHead + R"(runs:
  left: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 6}, T1: {tee: right}, P3: {pipe: 6}, T3: {tee: right}]}
  low: {from: T1.right, parts: [R1: {pipe: 30}], to: T2.left}
  high: {from: T4.left, parts: [R2: {pipe: 31}], to: T3.right}
  right: {from: floor, parts: [F2: flange, P2: {pipe: 6}, T2: {tee: left}, P4: {pipe: 6}, T4: {tee: left}]}
)";
  std::mt19937 rng(3);
  for (int i = 0; i < 20; ++i) {
    const Frame frame = read_frame(in_other_lines(text, rng), "f.yaml");
    CHECK(near(closure(frame, "R2", "T4").gap, inch(-1, 0, 0)));
    CHECK(near(part(frame, "F2").centre, inch(31.942, 0, 0)));
  }
}

TEST_CASE("one piece of work without a place begins at the origin wherever it stands, of two nobody knows which") {
  const std::string a = "  a: {from: floor, at: [20, 0], parts: [F: flange, P: {pipe: 6}]}\n";
  const std::string b = "  b: {from: floor, parts: [G: flange, Q: {pipe: 6}]}\n";
  const std::string c = "  c: {from: floor, parts: [H: flange, R: {pipe: 6}]}\n";
  for (const std::string& runs : {a + b, b + a}) {
    const Frame frame = read_frame(kHead + "runs:\n" + runs, "f.yaml");
    CHECK(near(part(frame, "G").centre, inch(0, 0, 0)));
    CHECK(near(part(frame, "F").centre, inch(20, 0, 0)));
  }
  for (const std::string& runs : {a + b + c, c + a + b, b + c + a}) {
    const std::string told = complaint(kHead + "runs:\n" + runs);
    CHECK(told.find("run 'b': nothing says where it is: give 'at'") != std::string::npos);
    CHECK(told.find("run 'c': nothing says where it is: give 'at'") != std::string::npos);
  }
}

TEST_CASE("reach is measured from the first pipe that the file names, wherever it stands in the frame") {
  const std::string text = two_posts("12", R"(  S1:
    through: [P7, P3]
    rests-on: [C2, C1]
    size: {x: 32, y: 9-1/4, z: 3/4}
    reach: {right: 3, front: 4-5/8}
)");
  const Frame frame = read_frame(text, "f.yaml");
  const Board& board = frame.boards.front();
  // The right post stands at 1.31 - 0.339 + 12 - 0.339 + 1.31 = 13.942; 3 in beyond it is the right edge.
  CHECK(near(board.hi.x, 16.942 * kIn));
  REQUIRE(board.holes.size() == 2);
  CHECK(board.holes[0].pipe == frame.find("P3"));
  CHECK(board.holes[1].pipe == frame.find("P7"));
}

TEST_CASE("boards stacked high are put in order in little time") {
  std::string boards = "  B0: {size: {x: 9, y: 9, z: 1/4}, rests-on: [P], reach: {left: 4, front: 4}}\n";
  for (int i = 1; i < 3000; ++i) {
    boards = fmt::format("  B{}: {{size: {{x: 9, y: 9, z: 1/4}}, rests-on: [B{}], reach: {{left: 4, front: 4}}}}\n", i,
                         i - 1) +
             boards;
  }
  const Frame frame =
      read_frame(kHead + "runs: {r: {go: right, at: [0, 0, 2], parts: [P: {pipe: 20}]}}\nboards:\n" + boards, "f.yaml");
  CHECK(frame.part(frame.boards.back().part).id == "B2999");
  CHECK(near(frame.boards.back().lo.z, (2 + 1.050 / 2 + 2999 * 0.25) * kIn));
}

}  // namespace
