// What closes an open frame: every cure is made as told and the frame read again. The frames are drawn by hand; what a
// fitter would do about each stands beside it.
#include "planner/cure/closure_cure.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "model/placing/reader.hpp"
#include "model/text/length.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/answers/plain_fit.hpp"

using namespace dryfit;
using namespace dryfit::planner;

namespace {

/// Closes, nothing in one place, and an order: as the frame stands after its turns.
bool can_be_made(const std::string& text) {
  const model::Frame frame = tests::read_frame_text(text);
  FitOptions options;
  options.cures = false;
  const Fit fit = find_fit(frame, options);
  const model::Frame after = turned(frame, fit.turns, fit.shift);
  const ContactList list = contacts_of(after);
  return fit.state != FitState::open && overlaps_of(after, list).empty() && find_order(after, list).buildable;
}

const ClosureCure* cure_of(const MendedFit& mended, ClosureCure::Kind kind, const std::string& name,
                           const std::string& side = "") {
  for (const ClosureCure& cure : mended.cures) {
    if (cure.kind == kind && cure.name == name && cure.side == side) return &cure;
  }
  return nullptr;
}

/// Pipes and lengths, "P2 10, P5 10", of each stock cure of a closure.
std::vector<std::string> stock_of(const model::Frame& frame, const ClosureFit& closure) {
  std::vector<std::string> out;
  for (const Cure& cure : closure.cures) {
    std::string text;
    for (const PipeChange& change : cure.changes) {
      text += fmt::format("{}{}", text.empty() ? "" : ", ", frame.part(change.pipe).id);
      for (const double piece : change.pieces) text += fmt::format(" {:g}", piece / model::kMmPerInch);
    }
    out.push_back(text);
  }
  return out;
}

bool has(const std::vector<std::string>& all, const std::string& one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

/// A shelf on two posts, screwed to a wall. Its back edge stands 9-1/4 - 4-5/8 = 4-5/8 in behind the posts.
std::string shelf_on_posts(const std::string& wall) {
  return "dryfit: 1\nname: Shelf\npipe: {standard: npt, size: 3/4}\n"
         "surfaces:\n  floor: {normal: up, at: 0}\n  wall: {normal: front, at: " +
         wall +
         "}\n"
         "runs:\n"
         "  left:\n    from: floor\n    at: [0, 0]\n    parts:\n      - FL: flange\n      - P1: {pipe: 6}\n"
         "      - T1: {tee: right}\n      - P2: {pipe: 8}\n      - K1: cap\n"
         "  rail:\n    from: T1.right\n    parts:\n      - R: {pipe: 30}\n    to: T2.left\n"
         "  right:\n    from: floor\n    go: up\n    parts:\n      - FR: flange\n      - P3: {pipe: 6}\n"
         "      - T2: {tee: left}\n      - P4: {pipe: 8}\n      - K2: cap\n"
         "boards:\n"
         "  S:\n    rests-on: [K1, K2]\n    size: {x: 36, y: 9-1/4, z: 3/4}\n"
         "    reach: {left: 2, front: 4-5/8}\n    fix: [wall]\n";
}

}  // namespace

TEST_CASE("a shelf that misses the wall: its reach, its depth or the wall, and no pipe") {
  const std::string text = shelf_on_posts("5");  // 3/8 in too far away
  const model::Frame frame = tests::read_frame_text(text);
  const MendedFit mended = fit_with_cures(frame, text);
  REQUIRE(mended.fit.state == FitState::open);
  // 3/8 in to the back is 3/8 in less to the front.
  const ClosureCure* reach = cure_of(mended, ClosureCure::Kind::reach, "S", "front");
  REQUIRE(reach != nullptr);
  CHECK(std::abs(reach->now - 4.25 * model::kMmPerInch) < 1e-3);
  const ClosureCure* size = cure_of(mended, ClosureCure::Kind::size, "S", "y");
  REQUIRE(size != nullptr);
  CHECK(std::abs(size->now - 9.625 * model::kMmPerInch) < 1e-3);
  const ClosureCure* wall = cure_of(mended, ClosureCure::Kind::surface, "wall");
  REQUIRE(wall != nullptr);
  CHECK(std::abs(wall->now - 4.625 * model::kMmPerInch) < 1e-3);
  for (const ClosureCure& cure : mended.cures) {
    CAPTURE(cure.text);
    CHECK(can_be_made(cure.text));
    CHECK(cure.still_open == 0);
    CHECK_FALSE(cure.closes.empty());
  }
  // No pipe of it runs toward the wall.
  for (const ClosureFit& closure : mended.fit.closures) CHECK(closure.cures.empty());
  CHECK(mended.fit.suspects.empty());
}

TEST_CASE("what is too short in every post alike is made longer in every post") {
  // Three posts, each with a rail to the wall that stops 2-1/8 in before it. One rail alone leaves the two others open.
  std::string text =
      "dryfit: 1\nname: Posts\npipe: {standard: npt, size: 3/4}\n"
      "surfaces:\n  floor: {normal: up, at: 0}\n  wall: {normal: front, at: 9.5}\nruns:\n";
  for (const char* n : {"0", "1", "2"}) {
    text += fmt::format(
        "  p{0}: {{from: floor, at: [2{0}0, 0], parts: [F{0}: flange, A{0}: {{pipe: 20}}, T{0}: {{tee: back}}, Q{0}: {{pipe: "
        "12}}, K{0}: cap]}}\n  b{0}: {{from: T{0}.back, parts: [B{0}: {{pipe: 6}}, G{0}: flange], to: wall}}\n",
        n);
  }
  const model::Frame frame = tests::read_frame_text(text);
  const MendedFit mended = fit_with_cures(frame, text);
  REQUIRE(mended.fit.state == FitState::open);
  int open = 0;
  for (const ClosureFit& closure : mended.fit.closures) {
    if (closure.state != FitState::open) continue;
    ++open;
    REQUIRE_FALSE(closure.cures.empty());
    CHECK(stock_of(frame, closure).front() == "B0 8, B1 8, B2 8");
    for (const Cure& cure : closure.cures) CHECK(cure.still_open == 0);
  }
  CHECK(open == 3);
  for (const char* n : {"0", "1", "2"})
    text.replace(text.find(fmt::format("B{}: {{pipe: 6}}", n)), 13, fmt::format("B{}: {{pipe: 8}}", n));
  CHECK(can_be_made(text));
}

TEST_CASE("a second `at` that should go") {
  // The rail places the right post 30 + 2 x (1.31 - 0.339) = 31.942 in to the right; the file says 33 in besides.
  std::string text = shelf_on_posts("4-5/8");
  const std::size_t go = text.find("    go: up\n");
  text.replace(go, 11, "    at: [33, 0]\n");
  const model::Frame frame = tests::read_frame_text(text);
  const MendedFit mended = fit_with_cures(frame, text);
  REQUIRE(mended.fit.state == FitState::open);
  const ClosureCure* let_go = cure_of(mended, ClosureCure::Kind::let_go, "right");
  REQUIRE(let_go != nullptr);
  CHECK(let_go->state == FitState::exact);
  CHECK(can_be_made(let_go->text));
}

TEST_CASE("a shelf under a beam is raised by the same pipe in both posts, never by one of them") {
  // The shelf's top stands at 0.75 - 0.339 + 6 - 0.339 + 2 x 1.31 - 0.339 + 8 - 0.339 + 0.97 + 0.75 = 17.734 in; the
  // beam that it is screwed to is 2 in higher.
  std::string text = shelf_on_posts("4-5/8");
  text.replace(text.find("runs:"), 5, "  beam: {normal: down, at: 19.734}\nruns:");
  text.replace(text.find("fix: [wall]"), 11, "fix: [wall, beam]");
  const model::Frame frame = tests::read_frame_text(text);
  const MendedFit mended = fit_with_cures(frame, text);
  REQUIRE(mended.fit.state == FitState::open);
  std::vector<std::string> stock;
  for (const ClosureFit& closure : mended.fit.closures) {
    if (closure.state != FitState::open) continue;
    for (const std::string& cure : stock_of(frame, closure)) stock.push_back(cure);
  }
  CHECK(has(stock, "P2 10, P4 10"));
  CHECK_FALSE(has(stock, "P2 10"));
  CHECK_FALSE(has(stock, "P4 10"));
}

TEST_CASE("a pipe that would push the bar into the ceiling is no cure") {
  // The right post is 6 in too long. 24 in there closes it; 30 in on the left would lift the bar by 6 in, and the
  // ceiling is 2 in above it: elbow's centre at 0.88 - 0.40 + 24 - 0.40 + 1.50 = 25.58 in, half a band of 0.886 in.
  const auto bar = [](double ceiling) {
    return fmt::format(
        "dryfit: 1\nname: Bar\npipe: {{standard: npt, size: 1}}\n"
        "surfaces:\n  floor: {{normal: up, at: 0}}\n  ceiling: {{normal: down, at: {:.3f}}}\n"
        "runs:\n  bar:\n    from: floor\n    at: [0, 0]\n    parts:\n      - FL: flange\n      - A: {{pipe: 24}}\n"
        "      - EL: {{elbow: right}}\n      - BAR: {{pipe: 30}}\n      - ER: {{elbow: down}}\n      - B: {{pipe: 30}}\n"
        "      - FR: flange\n    to: floor\n",
        ceiling);
  };
  const std::string low = bar(28.5);
  const MendedFit mended = fit_with_cures(tests::read_frame_text(low), low);
  REQUIRE(mended.fit.state == FitState::open);
  const std::vector<std::string> stock = stock_of(tests::read_frame_text(low), mended.fit.closures.back());
  CHECK(has(stock, "B 24"));
  CHECK_FALSE(has(stock, "A 30"));
  const std::string high = bar(96);
  const MendedFit free = fit_with_cures(tests::read_frame_text(high), high);
  CHECK(has(stock_of(tests::read_frame_text(high), free.fit.closures.back()), "A 30"));
}
