// Stock that closes what is open: one pipe or several, against trying everything. What a change does is found here by
// writing the frame's text anew and reading it, never by the code that makes the cures.
#include "planner/fit/fit_cures.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <map>
#include <random>
#include <string>

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
