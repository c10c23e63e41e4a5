/// What a move is told to weigh is what all that moves weighs together, whatever kind of move it is.
#include <doctest/doctest.h>

#include <array>
#include <cstdint>
#include <vector>

#include "planner/moves/moves.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/frames/random_benches.hpp"
#include "tests/support/frames/random_frames.hpp"

using namespace dryfit;

namespace {

/// Every move of the whole frame and of what one way down leaves; counts moves that carry something by kind.
void check_masses(const model::Frame& frame, std::array<int, 7>& carried) {
  const planner::ContactList list = planner::contacts_of(frame);
  planner::Undoer undoer(frame, list);
  planner::State state(list);
  for (;;) {
    const std::vector<planner::Move> moves = undoer.all_moves(state);
    if (moves.empty()) return;
    for (const planner::Move& move : moves) {
      double mass = 0.0;
      for (const model::PartId p : move.moving) mass += frame.part(p).mass;
      CHECK(move.mass == doctest::Approx(mass));
      if (mass > 0.0) ++carried[static_cast<std::size_t>(move.kind)];
    }
    state.undo(moves.front().contacts);
  }
}

}  // namespace

TEST_CASE("a move weighs what all its parts weigh together") {
  std::array<int, 7> carried{};
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    check_masses(test::random_frame(seed).frame, carried);
    check_masses(test::random_bench(seed).frame, carried);
  }
  using planner::MoveKind;
  for (const MoveKind kind :
       {MoveKind::unscrew, MoveKind::slide, MoveKind::sideways, MoveKind::swing, MoveKind::take_away}) {
    CAPTURE(static_cast<int>(kind));
    CHECK(carried[static_cast<std::size_t>(kind)] >= 3);  // a floor set by hand
  }
}
