/// The search and the judge were written apart; here they are held against each other in random states.
#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "model/geometry/at.hpp"
#include "planner/judge/replay.hpp"
#include "planner/judge/replay_judge.hpp"
#include "planner/moves/moves.hpp"
#include "planner/order/order.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/frames/given_steps.hpp"

using namespace dryfit;
using planner::Action;
using planner::ContactId;
using planner::ContactKind;
using planner::MoveKind;

namespace {

Action action_of(MoveKind kind) {
  switch (kind) {
    case MoveKind::unscrew: return Action::screw;
    case MoveKind::take_away: return Action::lay;
    case MoveKind::undo_nut: return Action::join;
    case MoveKind::unfasten: return Action::fasten;
    default: return Action::slide;
  }
}

/// Takes the frame apart by random moves of the search; the judge must take each move that the search offers on the
/// way. Returns how many it took.
int moves_taken(const test::Workpiece& piece, std::uint32_t seed) {
  std::mt19937 rng(seed);
  planner::Undoer undoer(piece.frame, piece.list);
  planner::MoveJudge judge(piece.frame, piece.list);
  planner::State state(piece.list);
  int taken = 0;
  while (state.count() > 0) {
    const std::vector<planner::Move> moves = undoer.all_moves(state);
    if (moves.empty()) break;
    for (const planner::Move& move : moves) {
      const Action action = action_of(move.kind);
      std::string why;
      const bool legal = judge.can_undo(
          state.all(), {action, move.contacts, action == Action::screw ? move.moving : std::vector<model::PartId>{}},
          &why);
      CAPTURE(why);
      CHECK(legal);
      taken += legal ? 1 : 0;
    }
    state.undo(moves[rng() % moves.size()].contacts);
  }
  return taken;
}

/// Takes the frame apart by the judge's moves alone, and returns what remains.
std::vector<ContactId> left_by_judge(const test::Workpiece& piece) {
  planner::judge::Judge judge(piece.frame, piece.list);
  std::vector<char> made(piece.list.contacts.size(), 1);
  const auto still_made = [&] {
    std::vector<ContactId> ids;
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (made[c] != 0) ids.push_back(static_cast<ContactId>(c));
    }
    return ids;
  };
  const auto undone_with = [&](ContactId id) -> std::vector<ContactId> {
    const planner::Contact& c = piece.list.contact(id);
    const std::vector<ContactId> all = still_made();
    if (c.kind == ContactKind::nut) return {id};
    if (c.kind == ContactKind::fastening) return judge.unfasten(made, id).undone;
    if (c.kind == ContactKind::thread) return judge.unscrew(made, id, {}).undone;
    if (c.kind == ContactKind::rest) return judge.take_away(made, c.a, {all}).undone;
    return judge.off_pipe(made, id, {all}).undone;
  };
  for (bool progress = true; progress;) {
    progress = false;
    for (const ContactId id : still_made()) {
      if (made[at(id)] == 0) continue;
      for (const ContactId gone : undone_with(id)) {
        made[at(gone)] = 0;
        progress = true;
      }
    }
  }
  return still_made();
}

}  // namespace

TEST_CASE("the judge takes every move that the search offers, in random states") {
  int taken = 0;
  for (const std::string& text : {tests::rack_text(1, 2), tests::rack_text(2, 3), tests::tower_text(12),
                                  tests::ladder_text(3, true), tests::ladder_text(3, false), tests::grid_text(2, 2)}) {
    const test::Workpiece piece = test::workpiece(text);
    CAPTURE(text);
    for (std::uint32_t seed = 1; seed <= 5; ++seed) {
      CAPTURE(seed);
      taken += moves_taken(piece, seed);
    }
  }
  CHECK(taken > 10000);  // a floor set by hand
}

TEST_CASE("what the judge's own moves cannot take apart is the knot that the search reports") {
  int locked = 0;
  for (const std::string& text :
       {tests::rack_text(2, 3), tests::tower_text(12), tests::ladder_text(1, false), tests::ladder_text(3, true),
        tests::ladder_text(3, false), tests::ladder_text(5, false), tests::grid_text(3, 2)}) {
    const test::Workpiece piece = test::workpiece(text);
    CAPTURE(text);
    const std::vector<ContactId> left = left_by_judge(piece);
    CHECK(left == planner::find_order(piece.frame, piece.list).knot);
    locked += left.empty() ? 0 : 1;
  }
  CHECK(locked == 2);  // the ladders of 3 and 5 rungs without unions; with one rung it can be built
}
