// Stock that closes what is open: one pipe or several, against trying everything. What a change does is found here by
// writing the frame's text anew and reading it, never by the code that makes the cures.
#include "planner/fit/fit_cures.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length.hpp"
#include "planner/base/stock.hpp"
#include "planner/fit/fit.hpp"
#include "planner/fit/fit_pieces.hpp"
#include "tests/support/answers/plain_fit.hpp"

using namespace dryfit;
using namespace dryfit::planner;
using tests::plain_fit;
using tests::read_frame_text;

namespace {

/// The pieces of each chain of pipes, inches; a coupling between each two.
using Chains = std::map<std::string, std::vector<double>>;

std::string chain(const Chains& chains, const std::string& name) {
  std::string out;
  const std::vector<double>& pieces = chains.at(name);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (i > 0) out += fmt::format("      - {}C{}: coupling\n", name, i);
    const std::string id = i == 0 ? name : fmt::format("{}{}", name, i + 1);
    out += fmt::format("      - {}: {{pipe: {:.4f}}}\n", id, pieces[i]);
  }
  return out;
}

/// A free ring in the x-z plane of four elbows.
std::string ring(const Chains& c) {
  return "dryfit: 1\nname: Ring\npipe: {standard: npt, size: 1}\nruns:\n  ring:\n    go: right\n    parts:\n" +
         chain(c, "BOTTOM") + "      - E1: {elbow: up}\n" + chain(c, "RIGHT") + "      - E2: {elbow: left}\n" +
         chain(c, "TOP") + "      - E3: {elbow: down}\n" + chain(c, "LEFT") +
         "      - E4: {elbow: right}\n    to: BOTTOM.start\n";
}

/// Two posts on the floor under one bar, with a rail between them half way up.
std::string trestle(const Chains& c) {
  return "dryfit: 1\nname: Trestle\npipe: {standard: npt, size: 1}\nsurfaces: {floor: {normal: up, at: 0}}\n"
         "runs:\n  posts:\n    from: floor\n    at: [0, 0]\n    parts:\n      - FL: flange\n" +
         chain(c, "A") + "      - TA: {tee: right}\n" + chain(c, "B") + "      - EA: {elbow: right}\n" +
         chain(c, "BAR") + "      - EB: {elbow: down}\n" + chain(c, "D") + "      - TB: {tee: left}\n" + chain(c, "C") +
         "      - FR: flange\n    to: floor\n  rail:\n    from: TA.right\n    parts:\n" + chain(c, "RAIL") +
         "    to: TB.left\n";
}

int open_closures(const Fit& fit) {
  int open = 0;
  for (const ClosureFit& c : fit.closures) open += c.state == FitState::open ? 1 : 0;
  return open;
}

/// A frame that closes has no gap that a turn at every thread could not take away.
bool hopeless(const model::Frame& frame) {
  double reach = kExact;
  for (const model::Joint& joint : frame.joints) reach += joint.pitch;
  for (const model::Closure& closure : frame.closures) {
    for (int axis = 0; axis < 3; ++axis) {
      if (std::abs(closure.gap[axis]) > reach) return true;
    }
  }
  return false;
}

std::vector<double> stock_inches() {
  std::vector<double> out;
  for (const double mm : stock_lengths(model::Standard::npt, *model::nominal_size("1")))
    out.push_back(mm / model::kMmPerInch);
  return out;
}

bool closes(const std::string& text) {
  const model::Frame frame = read_frame_text(text);
  return !hopeless(frame) && plain_fit(frame).state <= FitState::by_turning;
}

/// True when some change of this many pieces, in one pipe or in several of one piece each, closes the ring.
bool one_piece_closes(const Chains& chains) {
  for (const auto& [name, was] : chains) {
    for (const double length : stock_inches()) {
      Chains changed = chains;
      changed[name] = {length};
      if (length != was.front() && closes(ring(changed))) return true;
    }
  }
  return false;
}

bool two_pieces_close(const Chains& chains) {
  const std::vector<double> stock = stock_inches();
  for (const auto& [name, was] : chains) {
    for (const double a : stock) {
      for (const double b : stock) {
        Chains changed = chains;
        changed[name] = {a, b};
        if (a >= b && closes(ring(changed))) return true;
        for (const auto& [other, its] : chains) {
          if (other <= name) continue;
          changed = chains;
          changed[name] = {a};
          changed[other] = {b};
          if (a != was.front() && b != its.front() && closes(ring(changed))) return true;
        }
      }
    }
  }
  return false;
}

/// Every cure closes when its frame is written out and read again, and is what it says.
void check_by_reading(const Chains& chains, std::string (*draw)(const Chains&), const model::Frame& frame,
                      const ClosureFit& closure) {
  for (const Cure& cure : closure.cures) {
    CHECK(cure.state <= FitState::by_turning);
    Chains changed = chains;
    int pieces = 0;
    for (const PipeChange& change : cure.changes) {
      std::vector<double>& chain = changed[frame.part(change.pipe).id];
      chain.clear();
      for (const double mm : change.pieces) chain.push_back(mm / model::kMmPerInch);
      pieces += static_cast<int>(chain.size());
    }
    CHECK(pieces == cure.pieces());
    const Fit now = plain_fit(read_frame_text(draw(changed)));
    CHECK(now.closures[at(closure.closure)].state <= FitState::by_turning);
  }
}

}  // namespace

TEST_CASE("a ring that is open two ways is closed by changing two pipes") {
  // The top is 6 in longer than the bottom, the left side 3 in shorter than the right.
  const Chains chains{{"BOTTOM", {12}}, {"RIGHT", {9}}, {"TOP", {18}}, {"LEFT", {6}}};
  const model::Frame frame = read_frame_text(ring(chains));
  const Fit fit = find_fit(frame);
  REQUIRE(fit.closures.size() == 1);
  REQUIRE(fit.closures[0].state == FitState::open);
  REQUIRE_FALSE(fit.closures[0].cures.empty());
  for (const Cure& cure : fit.closures[0].cures) {
    // One piece for each of the two ways; both lengths are stock, so none needs a coupling.
    CHECK(cure.pieces() == 2);
    CHECK(cure.couplings() == 0);
    CHECK(cure.changes.size() == 2);
  }
  check_by_reading(chains, ring, frame, fit.closures[0]);
}

TEST_CASE("where a change in one leg would open another closure, both legs' pipes are changed") {
  // Both posts are 24 in of pipe, so the bar is level, but the rail hangs 6 in askew.
  const Chains chains{{"A", {12}}, {"B", {12}}, {"C", {18}}, {"D", {6}}, {"BAR", {30}}, {"RAIL", {30}}};
  const model::Frame frame = read_frame_text(trestle(chains));
  const Fit fit = find_fit(frame);
  REQUIRE(open_closures(fit) == 1);
  const ClosureFit* open = nullptr;
  for (const ClosureFit& c : fit.closures) open = c.state == FitState::open ? &c : open;
  REQUIRE_FALSE(open->cures.empty());
  bool found = false;
  for (const Cure& cure : open->cures) {
    CHECK(cure.changes.size() == 2);
    std::map<std::string, std::vector<double>> changes;
    for (const PipeChange& c : cure.changes) changes[frame.part(c.pipe).id] = c.pieces;
    found = found || changes == std::map<std::string, std::vector<double>>{{"C", {12 * model::kMmPerInch}},
                                                                           {"D", {12 * model::kMmPerInch}}};
  }
  CHECK(found);
  check_by_reading(chains, trestle, frame, *open);
  // Not one single pipe does it.
  for (const auto& [name, was] : chains) {
    for (const double length : stock_inches()) {
      Chains changed = chains;
      changed[name] = {length};
      if (length != was.front()) CHECK_FALSE(closes(trestle(changed)));
    }
  }
}

TEST_CASE("cures need no more pieces than trying every stock piece and every two finds") {
  std::array<int, 3> needed{0, 0, 0};
  for (std::uint32_t seed = 1; seed <= 24; ++seed) {
    CAPTURE(seed);
    std::mt19937 rng(seed);
    const std::vector<double> stock = stock_inches();
    Chains chains;
    for (const char* side : {"BOTTOM", "RIGHT", "TOP", "LEFT"}) {
      // Odd lengths too: cut pipe, for which no single stock length does.
      const double odd = rng() % 3 == 0 ? static_cast<double>(rng() % 16) / 16 : 0.0;
      chains[side] = {stock[8 + rng() % 9] + odd};
    }
    const model::Frame frame = read_frame_text(ring(chains));
    const Fit fit = find_fit(frame);
    if (fit.closures[0].state != FitState::open) continue;
    const std::vector<Cure>& cures = fit.closures[0].cures;
    if (one_piece_closes(chains)) {
      REQUIRE_FALSE(cures.empty());
      CHECK(cures[0].pieces() == 1);
      ++needed[0];
    } else if (two_pieces_close(chains)) {
      REQUIRE_FALSE(cures.empty());
      CHECK(cures[0].pieces() == 2);
      ++needed[1];
    } else {
      CHECK((cures.empty() || cures[0].cut || cures[0].pieces() > 2));
      ++needed[2];
    }
    check_by_reading(chains, ring, frame, fit.closures[0]);
  }
  CHECK(needed[0] >= 1);  // floors set by hand
  CHECK(needed[1] >= 2);
}

TEST_CASE("cures come fewest pieces first, then fewest couplings") {
  const Chains chains{{"BOTTOM", {12}}, {"RIGHT", {9}}, {"TOP", {15.5}}, {"LEFT", {9}}};
  const Fit fit = find_fit(read_frame_text(ring(chains)));
  REQUIRE(fit.closures[0].state == FitState::open);
  const std::vector<Cure>& cures = fit.closures[0].cures;
  REQUIRE_FALSE(cures.empty());
  for (std::size_t i = 1; i < cures.size(); ++i) {
    CHECK(std::pair(cures[i - 1].pieces(), cures[i - 1].couplings()) <=
          std::pair(cures[i].pieces(), cures[i].couplings()));
  }
}

/// Of two cures of as few pieces the better one stands first: it leaves less open, has fewer couplings, closes without
/// a wrench, with less turning, and with less left over.
bool better_or_alike(const Cure& a, const Cure& b) {
  const auto rank = [](const Cure& cure) {
    return std::tuple(cure.cut, cure.still_open > 0, cure.pieces(), cure.still_open, cure.couplings(), cure.state,
                      cure.turning);
  };
  if (rank(a) != rank(b)) return rank(a) < rank(b);
  return a.left <= b.left + 1e-6;
}

std::string only_ring(const std::string& pipe, const std::string& parts) {
  return "dryfit: 1\nname: Hoop\nunits: mm\n" + pipe +
         "runs:\n  ring:\n    at: [0, 0, 400]\n    go: left\n    parts: [" + parts + "]\n    to: A.start\n";
}

TEST_CASE("of cures with as few pieces the one that turns least is named first, then the one that leaves least") {
  // The sides differ by 70 mm: another pipe on the short one that is 1-1/2 or 2 in long does it by as much turning, and
  // leaves 0.15 or 0.41 mm.
  const Fit by_gap = find_fit(read_frame_text(
      only_ring("pipe: {standard: npt, size: 1}\n",
                "A: {pipe: 750}, E1: {elbow: up}, B: {pipe: 153}, U: union, C: {pipe: 248}, E2: {elbow: right}, "
                "D: {pipe: 750}, E3: {elbow: down}, F: {pipe: 330}, E4: {elbow: left}")));
  // Two pipes of the taller side, or one of each: all without a coupling, but not with as much turning.
  const Fit by_turning = find_fit(read_frame_text(only_ring(
      "pipe: {standard: npt, size: 1/2}\nmake-up: wrench\n",
      "A: {pipe: 230}, E1: {elbow: up}, B: {pipe: 190}, E2: {elbow: right}, D: {pipe: 230}, E3: {elbow: down}, "
      "F: {pipe: 295}, C: coupling, G: {pipe: 93.1064}, E4: {elbow: left}")));
  bool left_decides = false, turning_decides = false;
  for (const Fit* fit : {&by_gap, &by_turning}) {
    REQUIRE(fit->closures[0].state == FitState::open);
    const std::vector<Cure>& cures = fit->closures[0].cures;
    REQUIRE(cures.size() >= 2);
    for (std::size_t i = 1; i < cures.size(); ++i) {
      const Cure &before = cures[i - 1], &cure = cures[i];
      CAPTURE(i);
      CHECK(better_or_alike(before, cure));
      if (before.pieces() != cure.pieces() || before.couplings() != cure.couplings()) continue;
      turning_decides = turning_decides || before.turning < cure.turning;
      left_decides = left_decides || (before.turning == cure.turning && before.left < cure.left - 0.1);
    }
  }
  CHECK(left_decides);
  CHECK(turning_decides);
}

// A handle on two legs that the file puts nowhere: it stands on both, and is out by the difference, whichever of the
// two is called wrong.
TEST_CASE("of two legs that differ either can be changed, though the frame stands on the first") {
  const model::Frame frame = read_frame_text(R"(
dryfit: 1
name: Handle on two legs
pipe: {standard: npt, size: 1}
surfaces: {floor: {normal: up, at: 0}}
runs:
  handle:
    go: down
    parts: [K: cap, V: {pipe: 6}, T: {tee: right, entry: branch}]
  right:
    from: T.right
    parts: [R1: {pipe: 12}, E1: {elbow: down}, L1: {pipe: 12}, F1: flange]
    to: floor
  left:
    from: T.left
    parts: [R2: {pipe: 12}, E2: {elbow: down}, L2: {pipe: 10}, F2: flange]
    to: floor
)");
  const Fit fit = find_fit(frame);
  REQUIRE(fit.closures[0].state == FitState::exact);
  REQUIRE(fit.closures[1].state == FitState::open);
  const auto offers = [&](const char* pipe, double inches) {
    return std::any_of(fit.closures[1].cures.begin(), fit.closures[1].cures.end(), [&](const Cure& cure) {
      return cure.changes.size() == 1 && cure.changes[0].pipe == frame.find(pipe) &&
             std::abs(cure.changes[0].made_up - inches * model::kMmPerInch) < 0.01;
    });
  };
  CHECK(offers("L1", 10));
  CHECK(offers("L2", 12));
}

// Two legs under a top that differ by 20 mm: nothing says which of the two was cut wrong.
TEST_CASE("of two legs that differ under a board either is likely wrong") {
  const model::Frame frame = read_frame_text(R"(
dryfit: 1
name: Low trolley
units: mm
pipe: {standard: npt, size: 3/4}
surfaces: {floor: {normal: up, at: 0}}
runs:
  leg 1:
    from: floor
    at: [0, 0]
    parts: [W1: {caster: , measured: {height: 100, plate: 130}}, A1: {pipe: 100}, F1: flange]
    to: TOP.down
  leg 2:
    from: floor
    at: [500, 0]
    parts: [W2: {caster: , measured: {height: 100, plate: 130}}, A2: {pipe: 120}, F2: flange]
    to: TOP.down
boards:
  TOP: {at: [-80, -80], size: {x: 660, y: 160, z: 18}}
)");
  const Fit fit = find_fit(frame);
  REQUIRE(fit.suspects.size() == 2);
  CHECK(fit.suspects[0].pipe == frame.find("A1"));
  CHECK(std::abs(fit.suspects[0].length - 4.5 * model::kMmPerInch) < 0.01);
  CHECK(fit.suspects[1].pipe == frame.find("A2"));
  CHECK(std::abs(fit.suspects[1].length - 4.0 * model::kMmPerInch) < 0.01);
}

// Thirty metres are longer than four of the longest pipes that are sold; and nothing so long is there to be cut.
TEST_CASE("no pipe is told to be cut longer than the longest that is sold") {
  const Chains chains{{"BOTTOM", {1201.3}}, {"RIGHT", {9}}, {"TOP", {1199.1}}, {"LEFT", {9}}};
  const Fit fit = find_fit(read_frame_text(ring(chains)));
  REQUIRE(fit.closures[0].state == FitState::open);
  for (const Cure& cure : fit.closures[0].cures) {
    for (const PipeChange& change : cure.changes) {
      for (const double mm : change.pieces) CHECK(mm <= stock_inches().back() * model::kMmPerInch + 1e-6);
    }
  }
}

TEST_CASE("a pipe made of pieces with couplings is as long as the same frame written out") {
  const Chains chains{{"BOTTOM", {12}}, {"RIGHT", {9}}, {"TOP", {24}}, {"LEFT", {9}}};
  const model::Frame frame = read_frame_text(ring(chains));
  Chains changed = chains;
  changed["TOP"] = {10, 6, 4};
  changed["LEFT"] = {5, 3};
  const model::Frame written = read_frame_text(ring(changed));
  const model::Frame made = with_changes(
      frame, {{frame.find("LEFT"), {5 * model::kMmPerInch, 3 * model::kMmPerInch}, 0.0},
              {frame.find("TOP"), {10 * model::kMmPerInch, 6 * model::kMmPerInch, 4 * model::kMmPerInch}, 0.0}});
  REQUIRE(made.closures.size() == written.closures.size());
  CHECK(made.joints.size() == written.joints.size());
  for (int axis = 0; axis < 3; ++axis) {
    CHECK(std::abs(made.closures[0].gap[axis] - written.closures[0].gap[axis]) < 1e-9);
  }
}
