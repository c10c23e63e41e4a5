#include "model/placing/place.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "model/geometry/at.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/placed.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

// Dimensions in inches. L1 of ASME B1.20.1 (secondary source): 3/4 0.339, 1 0.400. From memory, as the tables say:
// tee and elbow centre to end 3/4 1.31, 1 1.50; coupling 3/4 1.52, 1 1.67; flange 3/4 0.75 high; cap 3/4 0.97;
// band 3/4 1.458; 45 elbow 3/4 0.98. Pipe outside diameter 3/4 1.050 (secondary).

const std::string kRack = two_posts("30", R"(  S1:
    through: [P3, P7]
    rests-on: [C1, C2]
    size: {x: 36, y: 9-1/4, z: 3/4}
    reach: {left: 2, front: 4-5/8}
    fix: [wall]
  TOP:
    rests-on: [P4]
    size: {x: 28, y: 6, z: 3/4}
    reach: {left: 14, front: 3}
)",
                                    "  wall: {normal: front, at: 4-5/8}\n");

TEST_CASE("a post on the floor rises by its parts less their engaged threads") {
  const Frame frame = read_frame(kHead +
                                     "  bench: {normal: up, at: 1}\n"
                                     "runs:\n"
                                     "  post:\n"
                                     "    from: bench\n"
                                     "    at: [2, 3]\n"
                                     "    parts:\n"
                                     "      - F: flange\n"
                                     "      - P1: {pipe: 6}\n"
                                     "      - T: {tee: right}\n"
                                     "      - P2: {pipe: 12}\n"
                                     "      - C: coupling\n",
                                 "post.yaml");
  CHECK(near(part(frame, "F").centre, inch(2, 3, 1)));
  // Pipe tip: face of the flange, 1 + 0.75, less 0.339.
  CHECK(near(end_at(frame, "P1", "down"), inch(2, 3, 1.411)));
  // Tee centre: tip 1.411 + 6, less 0.339, plus 1.31.
  CHECK(near(part(frame, "T").centre, inch(2, 3, 8.382)));
  // Branch face: 1.31 to the right.
  CHECK(near(end_at(frame, "T", "right"), inch(3.31, 3, 8.382)));
  // Coupling: tee's upper face 9.692, less 0.339, plus 12, less 0.339; its middle half of 1.52 above.
  CHECK(near(part(frame, "C").centre, inch(2, 3, 21.774)));
  CHECK(frame.closures.empty());
  CHECK(joint_name(frame, 2) == "P2/T.up");
  REQUIRE(frame.fastenings.size() == 1);
  CHECK(fastening_name(frame, 0) == "F/bench");
}

TEST_CASE("the rack: a rail places the second post, what is known twice is a closure") {
  const Frame frame = read_frame(kRack, "rack.yaml");
  // Post to post: 1.31 - 0.339 + 30 - 0.339 + 1.31 = 31.942.
  CHECK(near(part(frame, "FR").centre, inch(31.942, 0, 0)));
  CHECK(near(part(frame, "K2").centre - part(frame, "K1").centre, inch(31.942, 0, 0)));
  CHECK(closure_names(frame) == std::vector<std::string>{"FR-floor", "S1-C2", "S1-wall"});
  for (const Closure& c : frame.closures) CHECK(near(c.gap, {}));
  CHECK(closure(frame, "FR", "floor").binds == std::array{false, false, true});
  CHECK(closure(frame, "S1", "wall").binds == std::array{false, true, false});
  // Upper face of the coupling: 0.75 - 0.339 + 6 - 0.339 + 2.62 - 0.339 + 12 - 0.339 + 1.52 = 21.534.
  // It is 3/4 thick, 36 wide from 2 left of the post; its hole lies at half its thickness, 21.909.
  const Board& shelf = frame.boards[0];
  CHECK(near(shelf.lo, inch(-2, -4.625, 21.534)));
  CHECK(near(shelf.hi, inch(34, 4.625, 22.284)));
  REQUIRE(shelf.holes.size() == 2);
  CHECK(near(shelf.holes[1].centre, inch(31.942, 0, 21.909)));
  // The board on the rail: middle of the pipe at 31.942 / 2, its surface half of 1.050 over the tees' centres,
  // 0.75 - 0.339 + 6 - 0.339 + 1.31 = 7.382.
  const Board& top = frame.boards[1];
  CHECK(near(top.lo, inch(31.942 / 2 - 14, -3, 7.382 + 0.525)));
  CHECK(top.laid());
  CHECK_FALSE(shelf.laid());
  CHECK(fastening_name(frame, 2) == "S1/wall");
  // Joints in file order.
  CHECK(joint_name(frame, 0) == "P1/FL.up");
  CHECK(joint_name(frame, 6) == "P4/T1.right");
  CHECK(joint_name(frame, 7) == "P4/T2.left");
}

TEST_CASE("the tree of placing runs from the root through the joints that placed") {
  const Frame frame = read_frame(kRack, "rack.yaml");
  const auto by = [&](const std::string& id) { return frame.placed_by[dryfit::at(frame.find(id))]; };
  CHECK(by("FL").parent == kNone);
  CHECK(by("P1").parent == frame.find("FL"));
  CHECK(joint_name(frame, by("P1").joint) == "P1/FL.up");
  CHECK(by("P4").parent == frame.find("T1"));
  CHECK(by("T2").parent == frame.find("P4"));
  CHECK(joint_name(frame, by("T2").joint) == "P4/T2.left");
  // The right post hangs on its tee, downward and upward.
  CHECK(by("P5").parent == frame.find("T2"));
  CHECK(by("FR").parent == frame.find("P5"));
  CHECK(by("P6").parent == frame.find("T2"));
  CHECK(by("S1").parent == frame.find("C1"));
}

TEST_CASE("renamed and shuffled runs give the same places") {
  const Frame frame = read_frame(kRack, "rack.yaml");
  // The runs in every order; the left post starts wherever it stands, for it has `at`.
  const auto cut = [&](const std::string& from, const std::string& to) {
    return kRack.substr(kRack.find(from), kRack.find(to) - kRack.find(from));
  };
  const std::string head = kRack.substr(0, kRack.find("  left post:"));
  const std::string tail = kRack.substr(kRack.find("boards:"));
  std::vector<std::string> runs{cut("  left post:", "  foot rail:"), cut("  foot rail:", "  right post:"),
                                cut("  right post:", "boards:")};
  std::sort(runs.begin(), runs.end());
  int orders = 0;
  do {
    const Frame other = read_frame(head + runs[0] + runs[1] + runs[2] + tail, "rack.yaml");
    for (const Part& p : frame.parts) {
      CAPTURE(p.id);
      CHECK(near(part(other, p.id).centre, p.centre));
      CHECK(part(other, p.id).ports.size() == p.ports.size());
    }
    CHECK(other.closures.size() == frame.closures.size());
    ++orders;
  } while (std::next_permutation(runs.begin(), runs.end()));
  CHECK(orders == 6);

  std::string renamed = kRack;
  for (const auto& [old, fresh] : {std::pair{"P4", "RAIL"}, {"T2", "Zz-9_a"}, {"S1", "Shelf"}, {"floor", "deck"}}) {
    for (std::size_t at = renamed.find(old); at != std::string::npos; at = renamed.find(old, at + 6)) {
      renamed.replace(at, std::string(old).size(), fresh);
    }
  }
  const Frame other = read_frame(renamed, "rack.yaml");
  REQUIRE(other.parts.size() == frame.parts.size());
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    CHECK(other.parts[i].ports == frame.parts[i].ports);
    CHECK(other.parts[i].solids == frame.parts[i].solids);
  }
}

TEST_CASE("a mirrored frame is placed in mirror image") {
  std::string out;
  for (std::size_t i = 0; i < kRack.size();) {
    if (kRack.compare(i, 5, "right") == 0) {
      out += "left";
      i += 5;
    } else if (kRack.compare(i, 4, "left") == 0) {
      out += "right";
      i += 4;
    } else {
      out += kRack[i++];
    }
  }
  const Frame frame = read_frame(kRack, "rack.yaml");
  const Frame other = read_frame(out, "rack.yaml");
  REQUIRE(other.parts.size() == frame.parts.size());
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    const Vec3 c = frame.parts[i].centre;
    CAPTURE(frame.parts[i].id);
    CHECK(near(other.parts[i].centre, {-c.x, c.y, c.z}));
  }
  CHECK(near(other.boards[0].hi.x, -frame.boards[0].lo.x));
}

TEST_CASE("100 posts and 99 rails are placed one by the other, whatever stands first") {
  std::string runs;
  for (int i = 99; i >= 0; --i) {
    const std::string n = std::to_string(i);
    if (i > 0) {
      runs += "  rail " + n + ": {from: X" + std::to_string(i - 1) + ".right, parts: [R" + n + ": {pipe: 30}], to: X" +
              n + ".left}\n";
    }
    runs += "  post " + n + ": {from: floor, " + (i == 0 ? "at: [0, 0], " : "") + "parts: [F" + n + ": flange, A" + n +
            ": {pipe: 6}, X" + n + ": {cross: , plane: xz}]}\n";
  }
  const Frame frame = read_frame(kHead + "runs:\n" + runs, "f.yaml");
  // Post to post as in the rack above. Every post but the first meets a floor that is known already.
  CHECK(near(part(frame, "F99").centre, inch(99 * 31.942, 0, 0)));
  CHECK(frame.closures.size() == 99);
}

}  // namespace
