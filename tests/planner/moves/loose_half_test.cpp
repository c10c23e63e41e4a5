/// What hangs loose on the axis of a turn, end to end with what turns: search, judge and sampled motion say the same of
/// it, and undoing more never forbids what was allowed.
#include <doctest/doctest.h>

#include <random>
#include <set>
#include <string>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/moves/moves.hpp"
#include "tests/support/frames/random_rods.hpp"
#include "tests/support/oracle/oracle.hpp"
#include "tests/support/voices/three_voices.hpp"

namespace dryfit::test {
namespace {

using planner::ContactId;
using planner::Refusal;

struct RodCounts {
  int states = 0;
  int kept = 0;   ///< states in which a loose half keeps something in
  int ended = 0;  ///< states in which one keeps a pipe in its board
  int asked = 0;  ///< threads and holes asked of all three
};

/// The part hangs in holes alone: nothing else joins it to the room.
bool hangs(const planner::ContactList& list, const planner::State& state, model::PartId part) {
  std::vector<char> made(list.contacts.size(), 0);
  for (std::size_t c = 0; c < made.size(); ++c) {
    made[c] = state.made(static_cast<ContactId>(c)) && list.contacts[c].kind != planner::ContactKind::hole ? 1 : 0;
  }
  return state.holds_room(part) && !planner::State(list, made).holds_room(part);
}

/// Walks of random legal moves. In each state every thread is asked of the three, and what could be undone before and
/// is made still can be undone.
void walk_down(const RandomRod& rod, std::uint32_t seed, RodCounts& counts) {
  const planner::ContactList list = planner::contacts_of(rod.frame);
  planner::Undoer undoer(rod.frame, list);
  ThreeVoices voices(rod.text);
  std::mt19937 rng(seed);
  for (int walk = 0; walk < 2; ++walk) {
    planner::State state(list);
    std::vector<std::string> gone;
    std::set<ContactId> could;
    while (true) {
      ++counts.states;
      bool kept = false, ended = false;
      std::set<ContactId> can;
      for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
        const planner::ContactKind kind = list.contact(c).kind;
        if (!state.made(c) || (kind != planner::ContactKind::thread && kind != planner::ContactKind::hole)) continue;
        const planner::Attempt attempt = undoer.try_undo(state, c);
        std::vector<char> named(list.contacts.size(), 0);
        named[at(c)] = 1;
        bool by_loose = false, by_end = false;
        for (const Refusal& refusal : attempt.refusals) {
          by_loose = by_loose || refusal.why == Refusal::Why::loose_in_the_way;
          by_end = by_end || (refusal.kind == planner::MoveKind::slide && refusal.why == Refusal::Why::hits_part &&
                              hangs(list, state, refusal.blocking));
          for (const ContactId held : refusal.held_by) named[at(held)] = 1;
        }
        kept = kept || by_loose;
        ended = ended || by_end;
        // What is refused stays so with only that made which the refusals name.
        if ((by_loose || by_end) && !attempt.legal) CHECK_FALSE(undoer.try_undo(planner::State(list, named), c).legal);
        if (attempt.legal) can.insert(c);
        CAPTURE(list.contact(c).id);
        // A pipe that hung together with the one below it may have to wait for that one once the two are parted.
        if (kind == planner::ContactKind::thread) CHECK((attempt.legal || !could.contains(c)));
        ++counts.asked;
        const std::string said = voices.undoes(list.contact(c).id, gone);
        CHECK(said == (attempt.legal ? "yes" : "no"));
      }
      counts.kept += kept ? 1 : 0;
      counts.ended += ended ? 1 : 0;
      could = std::move(can);
      const std::vector<planner::Move> moves = undoer.all_moves(state);
      if (moves.empty()) break;
      const planner::Move& move = moves[rng() % moves.size()];
      for (const ContactId c : move.contacts) gone.push_back(list.contact(c).id);
      state.undo(move.contacts);
    }
  }
}

TEST_CASE("what hangs loose on an axis is pushed along it, by search, judge and sampled motion") {
  RodCounts counts;
  constexpr std::uint32_t kFrames = 80;
  for (std::uint32_t seed = 1; seed <= kFrames; ++seed) {
    CAPTURE(seed);
    const RandomRod rod = random_rod(seed);
    CAPTURE(rod.text);
    walk_down(rod, seed, counts);
  }
  MESSAGE("of " << counts.states << " states " << counts.kept << " have a thread that a loose half keeps in, "
                << counts.ended << " a pipe that one keeps in its board; asked " << counts.asked);
  CHECK(counts.states >= 800);
  CHECK(counts.kept >= 20);
  CHECK(counts.ended >= 5);
}

}  // namespace
}  // namespace dryfit::test
