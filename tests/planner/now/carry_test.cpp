/// Through a door and down again, on frames whose truth a fitter knows.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "model/geometry/at.hpp"
#include "model/text/length.hpp"
#include "planner/now/carry.hpp"
#include "tests/support/answers/bounded.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/frames/early_frames.hpp"

using namespace dryfit;
using planner::Carry;
using planner::ContactId;
using planner::Opening;
using tests::Example;

namespace {

/// A flagpole's foot: a flange on the floor and two pipes of 24 in with a coupling between them, capped.
const char* const kPole =
    "dryfit: 1\nname: Pole\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\nruns:\n"
    "  pole:\n    from: floor\n    at: [0, 0]\n    parts: [F: flange, A: {pipe: 24}, C: coupling, B: {pipe: 24}, K: cap]\n";

/// A tray on a level pipe; the tray is laid on and not screwed.
const char* const kTray =
    "dryfit: 1\nname: Tray\npipe: {standard: npt, size: 3/4}\nruns:\n  base:\n    go: right\n    at: [0, 0, 0]\n"
    "    parts: [K1: cap, A: {pipe: 24}, K2: cap]\n"
    "boards:\n  TOP:\n    rests-on: [A]\n    size: {x: 20, y: 9-1/4, z: 3/4}\n    reach: {left: 10, front: 4-5/8}\n";

std::vector<std::string> labels(const Example& e, const std::vector<model::PartId>& parts) {
  std::vector<std::string> names;
  for (const model::PartId p : parts) names.push_back(e.frame.part(p).label);
  return names;
}

std::set<std::string> ids(const Example& e, const std::vector<planner::Step>& steps) {
  std::set<std::string> names;
  for (const planner::Step& step : steps) {
    for (const ContactId c : step.contacts) names.insert(e.list.contact(c).id);
  }
  return names;
}

}  // namespace

TEST_CASE("through a barn door goes all but what is screwed to the room") {
  Example e(tests::trestle_text());
  const Carry plan = planner::carry(e.frame, e.list, Opening::door(100 * model::kMmPerInch, 100 * model::kMmPerInch));
  CHECK(plan.too_large.empty());
  CHECK(tests::is(plan.spot_moves, 2.0));
  CHECK(ids(e, plan.on_spot) == std::set<std::string>{"F1/floor", "F2/floor"});
  REQUIRE(plan.pieces.size() == 1);
  CHECK(plan.pieces.front().piece.slack.empty());
}

TEST_CASE("a pole of four feet goes into a lift of 40 in when it is parted at its coupling") {
  Example e(kPole);
  const Carry plan =
      planner::carry(e.frame, e.list, {{20 * model::kMmPerInch, 30 * model::kMmPerInch, 80 * model::kMmPerInch}});
  // About 49 in of pole go whole into a lift of 80 in, and leaning into one of 30 x 45 (54 in from corner to corner).
  CHECK(tests::is(plan.spot_moves, 1.0));
  CHECK(tests::is(
      planner::carry(e.frame, e.list, {{20 * model::kMmPerInch, 30 * model::kMmPerInch, 45 * model::kMmPerInch}})
          .spot_moves,
      1.0));
  const Carry split =
      planner::carry(e.frame, e.list, {{20 * model::kMmPerInch, 20 * model::kMmPerInch, 40 * model::kMmPerInch}});
  CHECK(tests::is(split.spot_moves, 2.0));
  CHECK(split.pieces.size() == 2);
  CHECK(ids(e, split.on_spot).contains("F/floor"));
}

TEST_CASE("a pole that is made up and screwed to the floor comes off and is parted, and no more") {
  Example e(kPole);
  std::vector<char> all(e.list.contacts.size(), 1);
  const Opening lift{{20 * model::kMmPerInch, 20 * model::kMmPerInch, 40 * model::kMmPerInch}};
  const Carry whole = planner::carry(e.frame, e.list, all, lift);
  CHECK(tests::is(whole.undo_moves, 2.0));
  CHECK(tests::is(whole.spot_moves, 2.0));
  CHECK(whole.before.empty());
  CHECK(whole.pieces.size() == 2);
  // Flange and pipe are joined: nothing comes off, and the rest is made up before the lift as far as it goes.
  std::vector<char> foot(e.list.contacts.size(), 0);
  foot[static_cast<std::size_t>(e.id("A/F.up"))] = 1;
  const Carry half = planner::carry(e.frame, e.list, foot, lift);
  CHECK(half.undo.empty());
  CHECK(tests::is(half.spot_moves, 2.0));
  CHECK(half.before.size() == 2);
  CHECK(half.kept == std::vector<ContactId>{e.id("A/F.up")});
}

TEST_CASE("capped uprights without their board are opened before they are carried") {
  Example e(tests::trestle_text());
  std::vector<char> made(e.list.contacts.size(), 1);
  for (const char* id : {"S/B1", "S/B2"}) made[static_cast<std::size_t>(e.id(id))] = 0;
  const Carry plan =
      planner::carry(e.frame, e.list, made, Opening::door(100 * model::kMmPerInch, 100 * model::kMmPerInch));
  // Both caps, or what carries them, and the screws of both flanges.
  CHECK(tests::is(plan.undo_moves, 4.0));
  CHECK(tests::is(plan.spot_moves, 2.0));
  CHECK(ids(e, plan.on_spot) == std::set<std::string>{"F1/floor", "F2/floor"});
  CHECK(ids(e, plan.before).contains("S/B1"));
}

TEST_CASE("a pipe longer than the lift goes in no order, and it is said by how much") {
  Example e(kPole);
  const Carry plan =
      planner::carry(e.frame, e.list, {{2 * model::kMmPerInch, 5 * model::kMmPerInch, 20 * model::kMmPerInch}});
  REQUIRE(plan.too_large.size() == 2);
  CHECK(labels(e, plan.too_large.front().piece.parts) == std::vector<std::string>{"A"});
  CHECK(labels(e, plan.too_large.back().piece.parts) == std::vector<std::string>{"B"});
  CHECK(plan.too_large.front().box.edges[2] == doctest::Approx(24 * model::kMmPerInch));
  CHECK(plan.too_large.front().box.lacks == doctest::Approx(4 * model::kMmPerInch));
  CHECK(plan.before.empty());
  CHECK(planner::take_down(e.frame, e.list, std::vector<char>(e.list.contacts.size(), 1),
                           Opening{{2 * model::kMmPerInch, 5 * model::kMmPerInch, 20 * model::kMmPerInch}})
            .undo.empty());
}

TEST_CASE("what only lies on a piece is to be tied down before it is carried") {
  Example e(kTray);
  const Carry plan = planner::carry(e.frame, e.list, Opening::door(100 * model::kMmPerInch, 100 * model::kMmPerInch));
  CHECK(tests::is(plan.spot_moves, 0.0));
  REQUIRE(plan.pieces.size() == 1);
  CHECK(labels(e, plan.pieces.front().piece.slack) == std::vector<std::string>{"TOP"});
  // Through a slit the top goes by itself.
  const Carry slit = planner::carry(e.frame, e.list, Opening::door(1.5 * model::kMmPerInch, 100 * model::kMmPerInch));
  CHECK(tests::is(slit.spot_moves, 1.0));
  CHECK(slit.pieces.size() == 2);
}

TEST_CASE("taken down through a barn door a frame loses its screws to the floor alone") {
  Example e(tests::trestle_text());
  const std::vector<char> all(e.list.contacts.size(), 1);
  const auto plan =
      planner::take_down(e.frame, e.list, all, Opening::door(100 * model::kMmPerInch, 100 * model::kMmPerInch));
  CHECK(tests::is(plan.undo_moves, 2.0));
  CHECK(plan.undo.size() == 2);
  // Nothing stands yet: nothing to take down.
  const std::vector<char> none(e.list.contacts.size(), 0);
  CHECK(planner::take_down(e.frame, e.list, none, Opening::door(100 * model::kMmPerInch, 100 * model::kMmPerInch))
            .undo.empty());
}

TEST_CASE("taken down wholly every joint comes apart") {
  Example e(tests::trestle_text());
  const auto plan = planner::take_down(e.frame, e.list, std::vector<char>(e.list.contacts.size(), 1), std::nullopt);
  std::set<ContactId> gone;
  for (const planner::Move& move : plan.undo) gone.insert(move.contacts.begin(), move.contacts.end());
  CHECK(gone.size() == e.list.contacts.size());
  CHECK(plan.pieces.size() == e.frame.parts.size());
}
