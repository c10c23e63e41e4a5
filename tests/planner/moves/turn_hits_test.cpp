/// What is remembered of turns is what the geometry says each time, and who asks briefly gets the same answer.
#include "planner/moves/turn_hits.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/moves/moves.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::test {

using planner::Attempt;
using planner::ContactId;

TEST_CASE("what a turn hits is the same remembered as asked pair by pair, twice over") {
  int hits = 0, misses = 0;
  for (std::uint32_t seed = 1; seed <= 25; ++seed) {
    CAPTURE(seed);
    const model::Frame frame = random_frame(seed).frame;
    const planner::ContactList list = planner::contacts_of(frame);
    const planner::BodyIndex index(frame, list);
    planner::TurnHits remembered(frame, list, index), asked(frame, list, index);
    REQUIRE(remembered.remembers());
    const auto bodies = static_cast<int>(index.bodies().size());
    for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
      const planner::Contact& thread = list.contact(c);
      if (thread.kind != planner::ContactKind::thread) continue;
      for (const model::Direction way : {thread.axis, -thread.axis}) {
        for (int body = 0; body < bodies; ++body) {
          std::vector<int> one_by_one;
          for (int k = 0; k < bodies; ++k) {
            const bool own = index.bodies()[at(k)].part == index.bodies()[at(body)].part;
            if (!own && asked.hit(thread, way, body, k)) one_by_one.push_back(k);
          }
          CHECK(remembered.of(c, way, body) == one_by_one);
          CHECK(remembered.of(c, way, body) == one_by_one);
          ++(one_by_one.empty() ? misses : hits);
        }
      }
    }
  }
  CHECK(hits > 500);
  CHECK(misses > 300);
}

TEST_CASE("a brief answer says legal when the long one does, and the same contacts or the same reasons") {
  int legal = 0, refused = 0;
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const model::Frame frame = random_frame(seed).frame;
    const planner::ContactList list = planner::contacts_of(frame);
    planner::Undoer undoer(frame, list);
    std::mt19937 rng(seed);
    planner::State state(list);
    while (state.count() > 0) {
      std::vector<ContactId> can;
      for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
        if (!state.made(c)) continue;
        const Attempt whole = undoer.try_undo(state, c), brief = undoer.try_briefly(state, c);
        REQUIRE(brief.legal == whole.legal);
        CHECK(brief.move.contacts == whole.move.contacts);
        REQUIRE(brief.refusals.size() == whole.refusals.size());
        for (std::size_t r = 0; r < whole.refusals.size(); ++r) {
          CHECK(brief.refusals[r].held_by == whole.refusals[r].held_by);
        }
        if (whole.legal) can.push_back(c);
        ++(whole.legal ? legal : refused);
      }
      if (can.empty()) break;
      state.undo(undoer.try_briefly(state, can[rng() % can.size()]).move.contacts);
    }
  }
  CHECK(legal > 300);
  CHECK(refused > 300);
}

TEST_CASE("whoever has seen many ways down says the same briefly as whoever sees a state for the first time") {
  int legal = 0, refused = 0;
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const model::Frame frame = random_frame(seed, {6, 30}).frame;
    const planner::ContactList list = planner::contacts_of(frame);
    planner::Undoer seen(frame, list);
    planner::Undoer fresh(frame, list);  // asked for whole answers alone
    std::mt19937 rng(seed);
    for (int way = 0; way < 12; ++way) {
      planner::State state(list);
      for (;;) {
        std::vector<ContactId> can;
        for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
          if (!state.made(c)) continue;
          const std::size_t cap = rng() % 3 == 0 ? 1 + rng() % 4 : planner::Undoer::kNoCap;
          const Attempt whole = fresh.try_undo(state, c, cap), brief = seen.try_briefly(state, c, cap);
          REQUIRE(brief.legal == whole.legal);
          REQUIRE(brief.capped == whole.capped);
          CHECK(brief.move.contacts == whole.move.contacts);
          if (whole.legal) can.push_back(c);
          ++(whole.legal ? legal : refused);
        }
        if (can.empty()) break;
        state.undo(fresh.try_undo(state, can[rng() % can.size()]).move.contacts);
      }
    }
  }
  CHECK(legal > 5000);
  CHECK(refused > 5000);
}

}  // namespace dryfit::test
