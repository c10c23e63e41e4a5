// Turns of whole frames against trying every combination, 700 small frames. What a turn does is measured here by
// placing the frame again, never taken from the equations; which chains take whole turns is known by construction.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <random>
#include <string>
#include <tuple>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/fit/fit.hpp"

using namespace dryfit;
using namespace dryfit::planner;

namespace {

/// A random chain of one to three pipes with couplings between them, near `inches` long in all.
std::string chain(std::mt19937& rng, const std::string& prefix, double inches) {
  const int pieces = 1 + static_cast<int>(rng() % 2) + static_cast<int>(rng() % 4 == 0);
  // Mostly whole turns off, for only those can be taken between fittings that point somewhere; 11.5 threads to the
  // inch.
  const double step = rng() % 5 == 0 ? 1.0 / 16 : 1.0 / 11.5;
  const double rest = inches - 0.87 * (pieces - 1) + (static_cast<double>(rng() % 9) - 4) * step;
  const double piece = std::round(rest / pieces * 16) / 16;
  std::string out;
  for (int i = 1; i <= pieces; ++i) {
    const double length = i < pieces ? piece : rest - piece * (pieces - 1);
    if (i > 1) out += fmt::format("      - {}C{}: coupling\n", prefix, i);
    out += fmt::format("      - {}{}: {{pipe: {:.4f}}}\n", prefix, i, length);
  }
  return out;
}

/// A trestle: two legs on the floor, a rail between two tees, a bar between two elbows above. Pipes of the left leg
/// are called L, of the right leg M, of the left and right side of the ring A and B, of the rail R, of the bar T.
std::string trestle(std::uint32_t seed) {
  std::mt19937 rng(seed);
  const std::string left = chain(rng, "L", 10);
  const std::string side = chain(rng, "A", 14);
  const std::string bar = chain(rng, "T", 30);
  // Seven turns longer than the other side, now and then: more than a turn at each thread.
  const std::string other = chain(rng, "B", rng() % 8 == 0 ? 15.5 : rng() % 6 == 0 ? 14 + 7 / 11.5 : 14);
  const std::string leg = chain(rng, "M", 10);
  const std::string rail = chain(rng, "R", rng() % 8 == 0 ? 31.5 : 30);
  return fmt::format(R"(
dryfit: 1
name: Trestle
pipe: {{standard: npt, size: 1}}
surfaces: {{floor: {{normal: up, at: 0}}}}
runs:
  frame:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
{}      - TL: {{tee: right}}
{}      - EL: {{elbow: right}}
{}      - ER: {{elbow: down}}
{}      - TR: {{tee: left}}
{}      - FR: flange
    to: floor
  rail:
    from: TL.right
    parts:
{}    to: TR.left
)",
                     left, side, bar, other, leg, rail);
}

/// Joints whose turns do the same: same chain, same effect on every gap.
struct Group {
  std::vector<double> mm;  ///< per closure axis and quarter turn
  char chain = ' ';
  int joints = 0;
  int low = 0;  ///< quarters each
  int high = 0;
  [[nodiscard]] bool whole() const { return chain == 'A' || chain == 'B' || chain == 'R' || chain == 'T'; }
};

std::vector<double> gaps(const model::Frame& frame) {
  std::vector<double> out;
  for (const model::Closure& c : frame.closures) {
    for (int axis = 0; axis < 3; ++axis) out.push_back(c.gap[axis]);
  }
  return out;
}

std::vector<Group> groups_of(const model::Frame& frame) {
  std::vector<Group> out;
  const std::vector<double> before = gaps(frame);
  for (int j = 0; j < static_cast<int>(frame.joints.size()); ++j) {
    const model::Joint& joint = frame.joint(j);
    Group g;
    g.chain = frame.part(joint.male).id[0];
    g.joints = 1;
    const double quarter = joint.pitch / 4;
    g.low = -4;  // made up by hand: what is backed off farther is loose
    g.high = std::max(4, static_cast<int>(std::floor((joint.wrench - joint.engaged) / quarter + 1e-9)));
    const std::vector<double> after = gaps(turned(frame, {{j, 0.25}}));
    for (std::size_t i = 0; i < before.size(); ++i) {
      const double mm = after[i] - before[i];
      g.mm.push_back(std::abs(mm) < 1e-9 ? 0.0 : std::round(mm * 1e9) / 1e9);
    }
    const auto same =
        std::find_if(out.begin(), out.end(), [&](const Group& o) { return o.chain == g.chain && o.mm == g.mm; });
    if (same == out.end()) {
      out.push_back(g);
    } else {
      ++same->joints;
    }
  }
  // The bar and the rail first, then the sides of the ring, then the legs: rows settle early.
  const std::string order = "TRABLM";
  std::stable_sort(out.begin(), out.end(),
                   [&](const Group& a, const Group& b) { return order.find(a.chain) < order.find(b.chain); });
  return out;
}

/// Quarters beyond one turn, quarters in all; nothing when no combination closes the frame.
using Best = std::optional<std::pair<int, int>>;

/// Tries every sum of quarters per group. Rows that no group can move must hold by themselves.
Best best_of_all(const model::Frame& frame, const std::vector<Group>& groups, bool wide) {
  const std::vector<double> gap = gaps(frame);
  // A row is settled with the last group that moves it: test it there and not at the very end.
  std::vector<std::size_t> settled(gap.size(), 0);
  for (std::size_t g = 0; g < groups.size(); ++g) {
    for (std::size_t row = 0; row < gap.size(); ++row) {
      if (groups[g].mm[row] != 0.0) settled[row] = g + 1;
    }
  }
  Best best;
  std::vector<double> now = gap;
  const auto search = [&](const auto& self, std::size_t g, int beyond, int sum) -> void {
    if (best && std::pair{beyond, sum} >= *best) return;
    for (std::size_t row = 0; row < now.size(); ++row) {
      if (settled[row] == g && std::abs(now[row]) > 0.5 + 1e-6) return;  // a 25.4 mm gap is 11-1/2 turns to the hair
    }
    if (g == groups.size()) {
      best = {beyond, sum};
      return;
    }
    const Group& group = groups[g];
    const int low = (wide ? group.low : -4) * group.joints;
    const int high = (wide ? group.high : 4) * group.joints;
    const std::vector<double> kept = now;
    for (int k = 0; k <= std::max(high, -low); ++k) {
      for (const int q : {k, -k}) {
        if (q < low || q > high || (group.whole() && q % 4 != 0) || (k == 0 && q != k)) continue;
        for (std::size_t row = 0; row < now.size(); ++row) now[row] = kept[row] + q * group.mm[row];
        self(self, g + 1, beyond + std::max(0, k - 4 * group.joints), sum + k);
        if (k == 0) break;
      }
    }
    now = kept;
  };
  search(search, 0, 0, 0);
  return best;
}

/// Every joint's quarters must be whole in sum along chains that point somewhere.
bool clocked_right(const model::Frame& frame, const Fit& fit) {
  std::map<char, double> sums;
  for (const JointTurn& t : fit.turns) sums[frame.part(frame.joint(t.joint).male).id[0]] += t.turns;
  for (const char c : {'A', 'B', 'R', 'T'}) {
    if (sums[c] != std::round(sums[c])) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("the turns of 700 small frames are the fewest that trying everything finds") {
  int turning = 0;
  int wrenching = 0;
  int open = 0;
  for (std::uint32_t seed = 1; seed <= 700; ++seed) {
    CAPTURE(seed);
    const model::Frame frame = model::read_frame(trestle(seed), "trestle.yaml");
    REQUIRE(frame.closures.size() == 2);
    const std::vector<Group> groups = groups_of(frame);
    FitOptions options;
    options.cures = false;
    const Fit fit = find_fit(frame, options);
    REQUIRE(fit.rechecked);
    REQUIRE(fit.proven);
    CHECK(clocked_right(frame, fit));
    Best best = best_of_all(frame, groups, false);
    const bool by_turning = best.has_value();
    if (!best) best = best_of_all(frame, groups, true);
    int sum = 0;
    int beyond = 0;
    for (const JointTurn& t : fit.turns) {
      const int quarters = static_cast<int>(std::lround(std::abs(t.turns) * 4));
      sum += quarters;
      beyond += std::max(0, quarters - 4);
    }
    if (!best) {
      CHECK(fit.state == FitState::open);
      ++open;
      continue;
    }
    CHECK(fit.state <= (by_turning ? FitState::by_turning : FitState::by_wrenching));
    CHECK(beyond == best->first);
    CHECK(sum == best->second);
    ++(by_turning ? turning : wrenching);
    // The frame placed again is closed.
    const model::Frame after = turned(frame, fit.turns);
    for (const model::Closure& c : after.closures) {
      for (int axis = 0; axis < 3; ++axis) CHECK(std::abs(c.gap[axis]) <= 0.5 + 1e-6);
    }
  }
  // Floors set by hand: all answers must stay common.
  CHECK(turning >= 100);
  CHECK(wrenching >= 50);
  CHECK(open >= 5);
}
