/// What is remembered of peelings never changes what breaks a hold.
#include "planner/peel/knots.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <iterator>
#include <random>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/peel/peeler.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::test {

using planner::ContactId;
using planner::Knots;
using planner::Undoer;

namespace {

/// By one peeling from the beginning, with an undoer that knows nothing.
std::vector<ContactId> breaking_anew(const model::Frame& frame, const planner::ContactList& list,
                                     const planner::State& from, const std::vector<ContactId>& hold) {
  Undoer undoer(frame, list);
  std::vector<char> kept(list.contacts.size(), 0);
  for (const ContactId c : hold) kept[at(c)] = 1;
  planner::Peeler peeler(undoer, from, kept);
  peeler.run();
  std::vector<ContactId> breaking;
  std::copy_if(hold.begin(), hold.end(), std::back_inserter(breaking),
               [&](ContactId c) { return undoer.try_undo(peeler.state(), c).legal; });
  return breaking;
}

struct HoldCounts {
  int whole = 0;    ///< all of the hold can go
  int some = 0;     ///< a part of it
  int nothing = 0;  ///< nothing ever does
};

/// Asks about holds that chance picks of what is made, from the whole frame and from states on the way down.
void ask_of_holds(const model::Frame& frame, std::uint32_t seed, HoldCounts& counts) {
  const planner::ContactList list = planner::contacts_of(frame);
  Undoer undoer(frame, list);
  Knots knots(list.contacts.size());
  std::mt19937 rng(seed);
  for (int time = 0; time < 3; ++time) {
    planner::State state(list);
    for (bool goes = true; goes;) {
      for (int asked = 0; asked < 4; ++asked) {
        std::vector<ContactId> hold;
        for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
          if (state.made(c) && rng() % 3 == 0) hold.push_back(c);
        }
        if (hold.empty()) continue;
        const std::vector<ContactId> breaking = knots.tightened(undoer, state, hold);
        REQUIRE(breaking == breaking_anew(frame, list, state, hold));
        ++(breaking.size() == hold.size() ? counts.whole : breaking.empty() ? counts.nothing : counts.some);
      }
      const std::vector<planner::Move> can = undoer.all_moves(state);
      goes = !can.empty();
      if (goes) state.undo(can[rng() % can.size()].contacts);
    }
  }
}

}  // namespace

TEST_CASE("what breaks a hold is the same whatever was asked before") {
  HoldCounts counts;
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    ask_of_holds(random_frame(seed).frame, seed, counts);
  }
  CHECK(counts.whole > 300);
  CHECK(counts.some > 300);
  CHECK(counts.nothing > 100);
}

TEST_CASE("a hold within what another one left is answered with no further move asked for") {
  int again = 0;
  for (std::uint32_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const model::Frame frame = random_frame(seed).frame;
    const planner::ContactList list = planner::contacts_of(frame);
    Undoer undoer(frame, list);
    Knots knots(list.contacts.size());
    const planner::State whole(list);
    std::vector<ContactId> all(list.contacts.size());
    for (std::size_t c = 0; c < all.size(); ++c) all[c] = static_cast<ContactId>(c);
    const std::vector<ContactId> breaking = knots.tightened(undoer, whole, all);
    if (breaking.empty()) continue;
    ++again;
    const long long asked = undoer.work().attempts;
    CHECK(knots.tightened(undoer, whole, breaking) == breaking);
    CHECK(undoer.work().attempts == asked);
  }
  CHECK(again > 20);
}

}  // namespace dryfit::test
