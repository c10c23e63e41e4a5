// Closures and turns of whole frames.
#include "planner/fit/fit.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <map>
#include <string>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "tests/support/answers/plain_fit.hpp"

using namespace dryfit;
using namespace dryfit::planner;
using tests::read_frame_text;

namespace {

bool alike(double a, double b, double tolerance = 1e-6) { return std::abs(a - b) <= tolerance; }

double total(const std::vector<JointTurn>& turns) {
  double sum = 0.0;
  for (const JointTurn& t : turns) sum += std::abs(t.turns);
  return sum;
}

/// Two posts under one bar with an elbow at each end: the bar is level when both posts are equally long.
std::string two_posts(const std::string& left, const std::string& right) {
  return fmt::format(R"(
dryfit: 1
name: Two posts under a bar
pipe: {{standard: npt, size: 1}}
surfaces: {{floor: {{normal: up, at: 0}}}}
runs:
  left post:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
{}
      - EL: {{elbow: right}}
      - BAR: {{pipe: 36}}
      - ER: {{elbow: down}}
{}
      - FR: flange
    to: floor
)",
                     left, right);
}

std::string pipes(const std::string& side, const std::vector<std::string>& parts) {
  std::string out;
  int n = 0;
  for (const std::string& part : parts) {
    if (!out.empty()) out += "\n";
    ++n;
    if (part == "coupling") {
      out += fmt::format("      - {}{}: coupling", side, n);
    } else if (part == "tee") {
      out += fmt::format("      - {}{}: {{tee: back}}", side, n);
    } else {
      out += fmt::format("      - {}{}: {{pipe: {}}}", side, n, part);
    }
  }
  return out;
}

}  // namespace

// Common practice, no source: 1 in hand-tight work.
TEST_CASE("a 30 in post comes out level with 12 + 12 + 4-1/2 and two couplings by turning") {
  const model::Frame frame =
      read_frame_text(two_posts(pipes("A", {"30"}), pipes("B", {"4-1/2", "coupling", "12", "coupling", "12"})));
  REQUIRE(frame.closures.size() == 1);
  // By hand: 28.5 in of pipe and two coupling gaps of 1.67 - 2 x 0.40 in are 30.24 in, 0.24 in over.
  CHECK(alike(frame.closures[0].gap.z, 0.24 * 25.4, 0.01));
  const Fit fit = find_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  CHECK(fit.rechecked);
  CHECK(fit.proven);
  CHECK(std::abs(fit.closures[0].left.z) <= kExact);
  // 0.24 in is 2.76 turns; to come within 0.5 mm takes 2.53, so 2-3/4 in quarters.
  CHECK(alike(total(fit.turns), 2.75));
  for (const JointTurn& t : fit.turns) CHECK(std::abs(t.turns) <= 1.0);
}

TEST_CASE("48 in closes against 30 + tee + 10 + coupling + 5 by turning, not against 30 + tee + 8 + coupling + 8") {
  const model::Frame good =
      read_frame_text(two_posts(pipes("A", {"48"}), pipes("B", {"30", "tee", "10", "coupling", "5"})));
  // By hand: 45 in of pipe, 2 x 1.50 - 2 x 0.40 in of tee, 1.67 - 2 x 0.40 in of coupling: 48.07 in.
  CHECK(alike(good.closures[0].gap.z, 0.07 * 25.4, 0.01));
  const Fit fits = find_fit(good);
  CHECK(fits.state == FitState::by_turning);
  CHECK(std::abs(fits.closures[0].left.z) <= kExact);
  const model::Frame bad =
      read_frame_text(two_posts(pipes("A", {"48"}), pipes("B", {"30", "tee", "8", "coupling", "8"})));
  CHECK(alike(bad.closures[0].gap.z, 1.07 * 25.4, 0.01));  // 46 in of pipe instead of 45
  const Fit does_not = find_fit(bad);
  CHECK(does_not.state > FitState::by_turning);
}

TEST_CASE("posts of one length are exact and need no turn") {
  const Fit fit = find_fit(read_frame_text(two_posts(pipes("A", {"30"}), pipes("B", {"30"}))));
  CHECK(fit.state == FitState::exact);
  CHECK(fit.turns.empty());
}

TEST_CASE("what no thread can give is open, and stock closes it") {
  const model::Frame frame = read_frame_text(two_posts(pipes("A", {"30"}), pipes("B", {"24"})));
  const Fit fit = find_fit(frame);
  CHECK(fit.state == FitState::open);
  CHECK(fit.turns.empty());
  REQUIRE_FALSE(fit.closures[0].cures.empty());
  bool longer = false;
  for (const Cure& cure : fit.closures[0].cures) {
    CHECK(cure.state <= FitState::by_turning);
    CHECK(cure.pieces() == 1);
    const PipeChange& change = cure.changes.at(0);
    longer = longer || (frame.part(change.pipe).id == "B1" && change.pieces == std::vector<double>{30 * 25.4});
  }
  CHECK(longer);
}

namespace {

/// A free ring of four elbows in the x-z plane, walked to the right, up, to the left and down.
std::string ring(const std::string& bottom, const std::string& right, const std::string& top, const std::string& left,
                 const std::string& make_up = "hand") {
  return fmt::format(R"(
dryfit: 1
name: Ring
pipe: {{standard: npt, size: 1}}
make-up: {}
runs:
  ring:
    go: right
    at: [0, 0, 0]
    parts:
{}
      - E1: {{elbow: up}}
{}
      - E2: {{elbow: left}}
{}
      - E3: {{elbow: down}}
{}
      - E4: {{elbow: right}}
    to: A1.start
)",
                     make_up, bottom, right, top, left);
}

/// The text of a frame with the engagement of every pipe end written out as `turns`.
std::string with_turns(std::string text, const model::Frame& frame, const std::vector<JointTurn>& turns) {
  std::map<std::string, std::array<double, 2>> ends;  // engaged turns per pipe
  for (const model::Joint& joint : frame.joints) {
    ends[frame.part(joint.male).id][at(joint.male_port)] = joint.engaged / joint.pitch;
  }
  for (const JointTurn& t : turns) {
    const model::Joint& joint = frame.joint(t.joint);
    ends[frame.part(joint.male).id][at(joint.male_port)] += t.turns;
  }
  for (const auto& [pipe, both] : ends) {
    const std::string start = "- " + pipe + ": {pipe: ";
    const std::size_t from = text.find(start);
    REQUIRE(from != std::string::npos);
    const std::size_t close = text.find('}', from);
    std::string given;
    if (both[0] > 0) given += fmt::format("start: {:.12f}", both[0]);
    if (both[1] > 0) given += fmt::format("{}end: {:.12f}", given.empty() ? "" : ", ", both[1]);
    text.insert(close, ", turns: {" + given + "}");
  }
  return text;
}

}  // namespace

TEST_CASE("a frame written out with the turns that were found closes when it is read again") {
  const std::string texts[] = {
      two_posts(pipes("A", {"30"}), pipes("B", {"4-1/2", "coupling", "12", "coupling", "12"})),
      two_posts(pipes("A", {"48"}), pipes("B", {"30", "tee", "8", "coupling", "8"})),
      ring(pipes("A", {"12"}), pipes("B", {"9"}), pipes("C", {"5-1/2", "coupling", "5.543"}), pipes("D", {"9"})),
  };
  for (const std::string& text : texts) {
    CAPTURE(text);
    const model::Frame frame = read_frame_text(text);
    const Fit fit = find_fit(frame);
    REQUIRE(fit.state != FitState::open);
    REQUIRE_FALSE(fit.turns.empty());
    const model::Frame again = read_frame_text(with_turns(text, frame, fit.turns));
    REQUIRE(again.closures.size() == frame.closures.size());
    for (std::size_t c = 0; c < again.closures.size(); ++c) {
      for (int axis = 0; axis < 3; ++axis) CHECK(alike(again.closures[c].gap[axis], fit.closures[c].left[axis], 1e-4));
    }
  }
}

TEST_CASE("between two fittings that point somewhere the turns of a chain add up to whole ones") {
  // Top: 11.043 in of pipe and a gap of 0.87 in against 12 in: 0.087 in short, one turn of 11.5 threads to the inch.
  const model::Frame frame = read_frame_text(
      ring(pipes("A", {"12"}), pipes("B", {"9"}), pipes("C", {"5-1/2", "coupling", "5.543"}), pipes("D", {"9"})));
  REQUIRE(frame.closures.size() == 1);
  CHECK(alike(std::abs(frame.closures[0].gap.x), 0.087 * 25.4, 0.01));
  const Fit fit = find_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  std::map<char, double> sums;
  for (const JointTurn& t : fit.turns) sums[frame.part(frame.joint(t.joint).male).id[0]] += t.turns;
  for (const auto& [chain, sum] : sums) CHECK(sum == std::round(sum));
  CHECK(alike(total(fit.turns), 1.0));
  CHECK(std::abs(fit.closures[0].left.x) <= 0.5);
}

TEST_CASE("whole turns that leave more than half a millimetre close nothing") {
  // Top: 11 in of pipe and a gap of 0.87 in against 12 in: 0.13 in or 1.49 turns short. One turn leaves 1.09 mm, two
  // 1.12 mm the other way, and a half cannot be taken, for all four elbows point somewhere.
  const Fit fit = find_fit(read_frame_text(
      ring(pipes("A", {"12"}), pipes("B", {"9"}), pipes("C", {"5-1/2", "coupling", "5-1/2"}), pipes("D", {"9"}))));
  CHECK(fit.state == FitState::open);
  CHECK(fit.turns.empty());
  CHECK(fit.proven);
}

TEST_CASE("a gap within the tolerance is exact, one that hits it too, and what is a hair wider is turned or open") {
  const auto state = [](const std::string& top) {
    return find_fit(
               read_frame_text(ring(pipes("A", {"300 mm"}), pipes("B", {"9"}), pipes("C", {top}), pipes("D", {"9"}))))
        .state;
  };
  CHECK(state("300.49 mm") == FitState::exact);
  CHECK(state("300.5 mm") == FitState::exact);
  // No turn is named for what no turn mends, so it does not "close by turning": a turn would leave 1.7 mm.
  CHECK(state("300.51 mm") == FitState::open);
  // One turn of 11.5 threads to the inch is 2.2087 mm: what is left is within the tolerance from 1.7087 to 2.7087.
  CHECK(state("301.70 mm") == FitState::open);
  CHECK(state("301.71 mm") == FitState::by_turning);
  CHECK(state("302.70 mm") == FitState::by_turning);
  CHECK(state("302.71 mm") == FitState::open);
}

namespace {

/// A rail between two walls `apart` inches: two flanges and a pipe of 48 in, 3/4. Mounting face to mounting face it is
/// 48 + 2 x (0.75 - 0.339) = 48.822 in by hand, and 2 x 0.2143 in less by wrench.
std::string between_walls(double apart, const std::string& make_up) {
  return fmt::format(R"(
dryfit: 1
name: Rail between two walls
pipe: {{standard: npt, size: 3/4}}
make-up: {}
surfaces:
  left: {{normal: right, at: 0}}
  right: {{normal: left, at: {:.4f}}}
runs:
  rail:
    from: left
    at: [0, 40]
    parts:
      - FL: {{flange: , measured: {{height: 0.75}}}}
      - R: {{pipe: 48}}
      - FR: {{flange: , measured: {{height: 0.75}}}}
    to: right
)",
                     make_up, apart);
}

FitState state_between(double apart, const std::string& make_up) {
  return find_fit(read_frame_text(between_walls(apart, make_up))).state;
}

}  // namespace

TEST_CASE("a thread is backed off by one turn and no farther: what is looser does not close") {
  const double turn = 1.0 / 14;
  const double made_up = 48 + 2 * (0.75 - 0.339);
  CHECK(state_between(made_up, "hand") == FitState::exact);
  CHECK(state_between(made_up + 2 * turn, "hand") == FitState::by_turning);  // one back at each flange
  // 2-1/4 back at each of two joints of 4-3/4 turns leaves half of the thread in the air. It once "closed by
  // wrenching".
  CHECK(state_between(made_up + 4.5 * turn, "hand") == FitState::open);
  CHECK(state_between(made_up + 2.5 * turn, "hand") == FitState::open);  // a turn each leaves 0.9 mm
  // Deeper a wrench goes: 3 turns past hand-tight, L3 of ASME B1.20.1.
  CHECK(state_between(made_up - 2 * turn, "hand") == FitState::by_turning);
  CHECK(state_between(made_up - 6 * turn, "hand") == FitState::by_wrenching);
  CHECK(state_between(made_up - 6.5 * turn, "hand") == FitState::open);
  // Made up with a wrench, a joint may be left at hand-tight, 3 turns less; not looser than that.
  const double tight = made_up - 6 * turn;
  CHECK(state_between(tight, "wrench") == FitState::exact);
  CHECK(state_between(tight + 6 * turn, "wrench") == FitState::by_wrenching);
  CHECK(state_between(tight + 6.5 * turn, "wrench") == FitState::open);
}

TEST_CASE("the same ring with a union in it is free to take quarter turns there") {
  const model::Frame frame = read_frame_text(
      ring(pipes("A", {"12"}), pipes("B", {"9"}),
           "      - C1: {pipe: 5}\n      - U: {union: , measured: {length: 2-1/8}}\n      - C2: {pipe: 5-1/2}",
           pipes("D", {"9"})));
  // 10.5 + 2.125 - 0.8 = 11.825 in, 0.175 in or 2.01 turns short of 12.
  CHECK(alike(std::abs(frame.closures[0].gap.x), 0.175 * 25.4, 0.01));
  const Fit fit = find_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  // To come within 0.5 mm takes 1.79 turns: 1-3/4 leaves 0.58 mm, so 2 or a whole turn elsewhere and a quarter more.
  CHECK(alike(total(fit.turns), 2.0));
  CHECK(std::abs(fit.closures[0].left.x) <= kExact);
}

TEST_CASE("wrench-tight threads that are turned within the standard's one turn still count as turning") {
  const model::Frame frame =
      read_frame_text(ring(pipes("A", {"12"}), pipes("B", {"9"}), pipes("C", {"12.1"}), pipes("D", {"9"}), "wrench"));
  CHECK(find_fit(frame).state == FitState::by_turning);
}

TEST_CASE("mirror-symmetric frames get mirror-symmetric turns") {
  // Two end posts too long by the same, a middle post between them.
  const std::string text = R"(
dryfit: 1
name: Three posts
pipe: {standard: npt, size: 1}
surfaces: {floor: {normal: up, at: 0}}
runs:
  middle:
    from: floor
    at: [0, 0]
    parts:
      - FM: flange
      - M1: {pipe: 12}
      - T: {tee: right, entry: branch}
  right:
    from: T.right
    parts:
      - R1: {pipe: 10}
      - ER: {elbow: down}
      - R2: {pipe: 14}
      - FR: flange
    to: floor
  left:
    from: T.left
    parts:
      - L1: {pipe: 10}
      - EL: {elbow: down}
      - L2: {pipe: 14}
      - FL: flange
    to: floor
)";
  for (const double over : {0.05, 0.1, 0.13, 0.2, 0.25}) {
    CAPTURE(over);
    std::string changed = text;
    for (const char* pipe : {"R2: {pipe: 14}", "L2: {pipe: 14}"}) {
      const std::size_t at_pipe = changed.find(pipe);
      changed.replace(at_pipe, std::string(pipe).size(), fmt::format("{}2: {{pipe: {:.4f}}}", pipe[0], 12 + over));
    }
    const model::Frame frame = read_frame_text(changed);
    const Fit fit = find_fit(frame);
    CHECK(fit.state <= FitState::by_turning);
    std::map<std::string, double> by_joint;
    for (const JointTurn& t : fit.turns) by_joint[joint_name(frame, t.joint)] = t.turns;
    CHECK(by_joint["R1/T.right"] == by_joint["L1/T.left"]);
    CHECK(by_joint["R1/ER.left"] == by_joint["L1/EL.right"]);
    CHECK(by_joint["R2/ER.down"] == by_joint["L2/EL.down"]);
    CHECK(by_joint["R2/FR.up"] == by_joint["L2/FL.up"]);
    CHECK_FALSE(fit.turns.empty());
  }
}

TEST_CASE("a frame that the file puts nowhere stands on its legs, and only their difference counts") {
  const std::string text = R"(
dryfit: 1
name: Bar on two legs
pipe: {standard: npt, size: 1}
surfaces: {floor: {normal: up, at: 0}}
runs:
  bar:
    go: left
    parts:
      - E1: {elbow: down}
      - L1: {pipe: 20}
      - F1: flange
    to: floor
  rest:
    from: E1.right
    parts:
      - B: {pipe: 30}
      - E2: {elbow: down}
      - L2: {pipe: 20.1}
      - F2: flange
    to: floor
)";
  const model::Frame frame = read_frame_text(text);
  REQUIRE(frame.closures.size() == 2);
  const Fit fit = find_fit(frame);
  CHECK(fit.state == FitState::by_turning);
  // The legs differ by 0.1 in. The bar lies at height 0 in the file and 0.88 - 0.40 + 20 - 0.40 + 1.50 = 21.58 in above
  // the floor, by the first leg; turning moves that by no more than the legs differ.
  CHECK(alike(fit.closures[0].gap.z, 0.0, 1e-9));
  CHECK(alike(std::abs(fit.closures[1].gap.z), 2.54, 1e-6));
  CHECK(alike(fit.shift.z, 21.58 * 25.4, 2.54 + kExact));
  CHECK(fit.rechecked);
  CHECK(std::abs(fit.closures[1].left.z - fit.closures[0].left.z) <= 2 * kExact);
}

// The rack's board leans on the coupling: as the rod is screwed deeper into it the board comes to the front, and with
// it the stay on its back, whose own nipple then has less to make up for.
TEST_CASE("what is screwed to the back of a board on edge goes where the fitting takes the board that it leans on") {
  const model::Frame frame = read_frame_text(R"(
dryfit: 1
name: Rack on a lying pipe
units: mm
pipe: {standard: npt, size: 3/4}
surfaces: {wall: {normal: front, at: 280}}
runs:
  rod: {at: [0, 0, 300], go: back, parts: [P: {pipe: 150}, C: coupling, A: {pipe: 100}, F: flange], to: wall}
  stay: {from: S.back, at: [300, 100], parts: [G: flange, M: {pipe: 119}, H: flange], to: wall}
boards:
  S: {facing: front, through: [P], rests-on: [C], size: {x: 340, y: 19, z: 200}, reach: {left: 100, down: 100}}
)");
  const Fit fit = find_fit(frame);
  REQUIRE(fit.closures.size() == 2);
  CHECK(fit.state != FitState::open);
  double to_the_front = 0.0;  // of the coupling
  double of_the_stay = 0.0;   // what the nipple gives
  for (const JointTurn& turn : fit.turns) {
    const double mm = turn.turns * frame.joint(turn.joint).pitch;
    if (joint_name(frame, turn.joint) == "P/C.front") to_the_front += mm;
    if (frame.joint(turn.joint).male == frame.find("M")) of_the_stay += mm;
  }
  REQUIRE(to_the_front > 0.5);
  CHECK(alike(fit.closures[1].left.y, fit.closures[1].gap.y + to_the_front + of_the_stay));
  CHECK(std::abs(fit.closures[1].left.y) <= kExact);
  CHECK(fit.rechecked);
  const model::Frame after = turned(frame, fit.turns, fit.shift);
  CHECK(alike(after.part(after.find("G")).centre.y - frame.part(frame.find("G")).centre.y, -to_the_front));
}

// Take-outs worked by hand, dimensions of the fittings from memory: these check the arithmetic, not the tables.
TEST_CASE("take-outs by hand: centre-to-centre and face-to-floor lengths of three frames") {
  SUBCASE("1 in hand-tight post: flange, 12 in, tee, 24 in, elbow") {
    const model::Frame frame = read_frame_text(two_posts(pipes("A", {"12", "tee", "24"}), pipes("B", {"40"})));
    // Elbow's centre over the tee's: 24 + 2 x (1.50 - 0.40) = 26.2 in.
    const double rise = frame.part(frame.find("EL")).centre.z - frame.part(frame.find("A2")).centre.z;
    CHECK(alike(rise, 26.2 * 25.4, 0.01));
  }
  SUBCASE("3/4 in wrench-tight ring: 20 in between elbows is 22.62 - 1.1066 in centre to centre") {
    std::string text = ring(pipes("A", {"20"}), pipes("B", {"9"}), pipes("C", {"20"}), pipes("D", {"9"}), "wrench");
    text.replace(text.find("size: 1}"), 8, "size: 3/4}");
    const model::Frame frame = read_frame_text(text);
    const double reach = frame.part(frame.find("E2")).centre.x - frame.part(frame.find("E3")).centre.x;
    // 20 + 2 x 1.31 - 2 x 0.5533
    CHECK(alike(reach, (20 + 2 * 1.31 - 2 * 0.5533) * 25.4, 0.01));
    CHECK(find_fit(frame).state == FitState::exact);
  }
  SUBCASE("1 in hand-tight 45-degree offset: 16.97 in of travel rises and runs 12 in") {
    // Dibble, Elements of Plumbing, 1918 (secondary): offset 12 in, travel 12 x 1.41 = 16.92 in centre to centre.
    // 45-degree elbow 1.12 in centre to end: pipe 16.9706 - 2 x (1.12 - 0.40) = 15.5306 in.
    const model::Frame frame = read_frame_text(R"(
dryfit: 1
name: Offset
pipe: {standard: npt, size: 1}
runs:
  offset:
    go: up
    at: [0, 0, 0]
    parts:
      - P1: {pipe: 6}
      - E1: {elbow45: up-right}
      - P2: {pipe: 15.5306}
      - E2: {elbow45: up}
      - P3: {pipe: 6}
)");
    const model::Vec3 offset = frame.part(frame.find("E2")).centre - frame.part(frame.find("E1")).centre;
    CHECK(alike(offset.x, 12 * 25.4, 0.05));
    CHECK(alike(offset.z, 12 * 25.4, 0.05));
  }
}

TEST_CASE("a post's spread is the sum of its threads at worst and their root of squares as likely") {
  const Fit fit = find_fit(
      read_frame_text(two_posts(pipes("A", {"30"}), pipes("B", {"4-1/2", "coupling", "12", "coupling", "12"}))));
  const double pitch = 25.4 / 11.5;
  // Leg A has two threads, leg B six; across the closure all eight count.
  CHECK(fit.closures[0].spread[2].threads == 8);
  CHECK(alike(fit.closures[0].spread[2].worst, 8 * pitch));
  CHECK(alike(fit.closures[0].spread[2].likely, std::sqrt(8.0) * pitch));
  REQUIRE(fit.levels.size() == 2);
  CHECK(fit.levels[0].spread.threads == 2);
  CHECK(fit.levels[1].spread.threads == 6);
  CHECK(fit.spare_leg == 1);  // the one whose threads can stray further
}

TEST_CASE("a leg's slope is its gap over the distance to the next leg") {
  const Fit fit = find_fit(read_frame_text(two_posts(pipes("A", {"30"}), pipes("B", {"30.1"}))));
  REQUIRE(fit.levels.size() == 2);
  // Posts stand 36 + 2 x (1.50 - 0.40) = 38.2 in apart.
  CHECK(alike(fit.levels[1].span, 38.2 * 25.4, 0.01));
  CHECK(alike(fit.levels[1].gap, 2.54, 1e-6));
  CHECK(alike(fit.levels[1].slope, 2.54 / (38.2 * 25.4) * 1000, 1e-4));
  CHECK(fit.levels[1].slope_left < fit.levels[1].slope);
}
