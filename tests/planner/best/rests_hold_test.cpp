/// Boards are laid on what is firm, and the work keeps its pose until they are fastened: frames whose truth a fitter
/// knows, then random ones. What is firm is asked of naive_handling, which shares no code with the planner.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "model/placing/reader.hpp"
#include "planner/best/best_order.hpp"
#include "planner/best/standing.hpp"
#include "planner/judge/replay.hpp"
#include "tests/support/answers/best_steps.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/random_frames.hpp"
#include "tests/support/naive/naive_handling.hpp"
#include "tests/support/program/program.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

/// What an order does with the boards that are laid.
struct Laid {
  int boards = 0;
  int on_loose = 0;         ///< laid on what is loose, though the finished frame carries them firmly
  int turned_loose = 0;     ///< turned over with a board that can be lifted off
  int turned_strapped = 0;  ///< turned over with a board on it that something holds
};

Laid laid_in(const model::Frame& frame, const ContactList& list, const BestOrder& best) {
  Laid laid;
  std::vector<char> made(list.contacts.size(), 1);
  std::vector<std::vector<char>> before;  // per undo move: what is made when it has been made
  for (const Move& move : best.undo_moves) {
    before.push_back(made);
    if (move.kind == MoveKind::take_away) {
      ++laid.boards;
      laid.on_loose += test::naive_on_loose(frame, list, made, move) > 0.0 ? 1 : 0;
    }
    for (const ContactId c : move.contacts) made[at(c)] = 0;
  }
  for (const PoseChange& change : best.poses.changes) {
    const test::NaivePiece piece = test::naive_piece(list, before[change.after], best.undo_moves[change.after]);
    const bool boards = std::any_of(piece.parts.begin(), piece.parts.end(), [&](int p) {
      return frame.part(p).board != model::kNone && frame.board_of(p).laid();
    });
    if (!boards) continue;
    // The judge says whether the board comes off.
    const auto comes_off = [&](ContactId rest) {
      std::vector<ContactId> rests;
      for (const ContactId c : list.at[at(list.contact(rest).a)]) {
        const Contact& one = list.contact(c);
        if (before[change.after][at(c)] != 0 && one.kind == ContactKind::rest && one.a == list.contact(rest).a) {
          rests.push_back(c);
        }
      }
      return replay_move_is_legal(frame, list, before[change.after], Action::lay, rests);
    };
    (test::naive_keeps_pose(frame, list, before[change.after], piece, comes_off) ? laid.turned_loose
                                                                                 : laid.turned_strapped) += 1;
  }
  return laid;
}

BestOrder best_in_pose(const Workpiece& w, PosePreference pose = PosePreference::free) {
  BestOptions options;
  options.pose = pose;
  BestOrder best = find_best_order(w.frame, w.list, options);
  REQUIRE(best.order.buildable);
  CHECK(best.effort.proven);
  return best;
}

TEST_CASE("shelves of a wall rail are laid on when the rail is on the wall, whatever is wished for") {
  const Workpiece w = workpiece(tests::slurp(tests::scenario("paint-shelf")));
  for (const PosePreference wish : {PosePreference::free, PosePreference::laid, PosePreference::standing}) {
    const BestOrder best = best_in_pose(w, wish);
    // The rail is one loose run of pipe: a board on it would roll off.
    const int held = std::min(test::step_of(w, best, "P1/wall"), test::step_of(w, best, "P2/wall"));
    CHECK(test::step_of(w, best, "LEFT/P1") > held);
    CHECK(test::step_of(w, best, "RIGHT/P2") > held);
    const Laid laid = laid_in(w.frame, w.list, best);
    CHECK(laid.boards == 2);
    CHECK(laid.on_loose == 0);
    CHECK(laid.turned_loose == 0);
  }
}

TEST_CASE("a board over two posts waits until both stand") {
  // Each post stands on a floor flange. Without it a pipe of 40 in falls over at a push, and one lying down carries
  // nothing at the height of the other.
  const Workpiece w = workpiece(R"(dryfit: 1
units: in
pipe: {standard: npt, size: 1/2}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left:
    from: floor
    at: [0, 0]
    parts: [FL: flange, PL: {pipe: 40}, KL: cap]
  right:
    from: floor
    at: [20, 0]
    parts: [FR: flange, PR: {pipe: 40}, KR: cap]
boards:
  TOP:
    rests-on: [KL, KR]
    size: {x: 30, y: 8, z: 3/4}
    reach: {left: 5, front: 4}
)");
  const BestOrder best = best_in_pose(w);
  CHECK(test::step_of(w, best, "TOP/KL") > test::step_of(w, best, "PL/FL.up"));
  CHECK(test::step_of(w, best, "TOP/KR") > test::step_of(w, best, "PR/FR.up"));
  CHECK(laid_in(w.frame, w.list, best).on_loose == 0);
  const StandingPlan plan = [&] {
    const Undoer undoer(w.frame, w.list);
    return standing_of(w.frame, w.list, Effort(undoer, 2), best);
  }();
  CHECK(plan.on_loose.empty());
}

TEST_CASE("a board that only two loose pipes carry is laid on them all the same, and the order says so") {
  // Nothing else ever holds the two pipes; the straps come next, with the pipes chocked.
  const Workpiece w = workpiece(R"(dryfit: 1
units: in
pipe: {standard: npt, size: 1}
runs:
  front:
    at: [0, 0, 0]
    go: right
    parts: [K1: cap, P1: {pipe: 30}, K2: cap]
  back:
    at: [0, 12, 0]
    go: right
    parts: [K3: cap, P2: {pipe: 30}, K4: cap]
boards:
  DECK:
    rests-on: [P1, P2]
    size: {x: 24, y: 18, z: 3/4}
    reach: {left: 12, front: 3}
    strap: {P1: 2, P2: 2}
)");
  const BestOrder best = best_in_pose(w);
  const Undoer undoer(w.frame, w.list);
  const StandingPlan plan = standing_of(w.frame, w.list, Effort(undoer, 2), best);
  CHECK(plan.on_loose == std::vector<int>{test::step_of(w, best, "DECK/P1")});
  CHECK(laid_in(w.frame, w.list, best).turned_loose == 0);
  CHECK(best.effort.unwanted == 0.0);  // no order is better in that
}

TEST_CASE("in random frames boards are laid on what is firm, and kept as they lie until they are held") {
  int boards = 0, strapped = 0, dear = 0;
  for (std::uint32_t seed = 30'000; seed < 32'600; ++seed) {
    const test::RandomFrame random = test::random_frame(seed, {4, 14});
    if (std::none_of(random.frame.boards.begin(), random.frame.boards.end(),
                     [](const model::Board& board) { return board.laid() && !board.carriers.empty(); })) {
      continue;
    }
    const ContactList list = contacts_of(random.frame);
    const BestOrder best = find_best_order(random.frame, list);
    if (!best.order.buildable) continue;
    CAPTURE(random.text);
    const Laid laid = laid_in(random.frame, list, best);
    CHECK(laid.turned_loose == 0);
    // Each of them weighs a thousand: what is left is where no order does without.
    if (laid.on_loose > 0) CHECK(best.effort.unwanted >= 1000.0 * laid.on_loose - 1e-6);
    boards += laid.boards;
    strapped += laid.turned_strapped;
    dear += laid.on_loose;
  }
  MESSAGE(boards, " boards laid, ", strapped, " turned with a board held on it, ", dear, " on what is loose");
  CHECK(boards >= 25);  // else the generator makes too few
}

}  // namespace
}  // namespace dryfit::planner
