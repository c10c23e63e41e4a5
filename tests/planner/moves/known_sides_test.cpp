/// What an undoer remembers of the states that it was asked about never changes an answer.
#include "planner/moves/known_sides.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/moves/moves.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/random_frames.hpp"
#include "tests/support/program/program.hpp"

namespace dryfit::test {

using planner::Attempt;
using planner::ContactId;
using planner::KnownSides;
using planner::Move;
using planner::Undoer;

namespace {

void same_move(const Move& one, const Move& other) {
  CHECK(one.kind == other.kind);
  CHECK(one.contacts == other.contacts);
  CHECK(one.moving == other.moving);
  CHECK(one.holding == other.holding);
  CHECK(one.swing_radius == other.swing_radius);
}

struct AskedCounts {
  int legal = 0;
  int refused = 0;
};

/// Takes the frame apart by moves that chance picks, `times` over, and asks one undoer about all of the states and a
/// fresh one about each.
void ask_both(const model::Frame& frame, std::uint32_t seed, int times, AskedCounts& counts) {
  const planner::ContactList list = planner::contacts_of(frame);
  Undoer asked_before(frame, list);
  std::mt19937 rng(seed);
  for (int time = 0; time < times; ++time) {
    planner::State state(list);
    for (bool goes = true; goes;) {
      Undoer fresh(frame, list);
      std::vector<Move> can;
      for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
        if (!state.made(c)) continue;
        CAPTURE(list.contact(c).id);
        const Attempt old = asked_before.try_undo(state, c), now = fresh.try_undo(state, c);
        REQUIRE(old.legal == now.legal);
        REQUIRE(old.refusals.size() == now.refusals.size());
        for (std::size_t r = 0; r < now.refusals.size(); ++r) CHECK(old.refusals[r].held_by == now.refusals[r].held_by);
        ++(now.legal ? counts.legal : counts.refused);
        if (now.legal) same_move(old.move, now.move);
        const std::vector<Move> old_ways = asked_before.ways(state, c), ways = fresh.ways(state, c);
        REQUIRE(old_ways.size() == ways.size());
        for (std::size_t i = 0; i < ways.size(); ++i) same_move(old_ways[i], ways[i]);
        can.insert(can.end(), ways.begin(), ways.end());
      }
      goes = !can.empty();
      if (goes) state.undo(can[rng() % can.size()].contacts);
    }
  }
}

}  // namespace

TEST_CASE("a question is answered the same whatever was asked before") {
  AskedCounts counts;
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    ask_both(random_frame(seed).frame, seed, 4, counts);
  }
  for (const char* name : {"potting-hoop-notched", "window-pole"}) {
    CAPTURE(name);
    ask_both(workpiece(tests::slurp(tests::scenario(name))).frame, 1, 3, counts);
  }
  CHECK(counts.legal > 2000);
  CHECK(counts.refused > 1000);
}

TEST_SUITE("slow") {
  TEST_CASE("a question about a rack is answered the same whatever was asked before") {
    AskedCounts counts;
    for (const char* name : {"boot-bench-metric", "hall-rack", "plant-rack"}) {
      CAPTURE(name);
      ask_both(workpiece(tests::slurp(tests::scenario(name))).frame, 1, 6, counts);
    }
    CHECK(counts.legal > 2000);
  }
}

TEST_CASE("what went once goes again with less made, and what stayed stays while that is made") {
  const char* const two_pipes = R"(dryfit: 1
pipe: {standard: npt, size: 1}
runs:
  arm:
    at: [0, 0, 0]
    go: right
    parts: [K1: cap, P1: {pipe: 10}, C: coupling, P2: {pipe: 10}, K2: cap]
)";
  const auto w = workpiece(two_pipes);
  KnownSides known(w.list.contacts.size());
  planner::State less(w.list), least(w.list);
  less.undo({0});
  least.undo({0});
  least.undo({3});
  CHECK(known.of(less, 1, true) == KnownSides::Known::nothing);
  known.keep_going(less, 1, true);
  CHECK(known.of(less, 1, true) == KnownSides::Known::goes);
  CHECK(known.of(least, 1, true) == KnownSides::Known::goes);
  CHECK(known.of(planner::State(w.list), 1, true) == KnownSides::Known::nothing);
  CHECK(known.of(less, 1, false) == KnownSides::Known::nothing);
  CHECK(known.of(less, 2, true) == KnownSides::Known::nothing);
  known.keep_going(less, 2, true, 3);
  CHECK(known.of(least, 2, true, 3) == KnownSides::Known::goes);
  CHECK(known.of(least, 2, true, 2) == KnownSides::Known::nothing);
  known.keep_staying(1, false, {3});
  CHECK(known.of(less, 1, false) == KnownSides::Known::stays);
  CHECK(known.of(least, 1, false) == KnownSides::Known::nothing);
}

}  // namespace dryfit::test
