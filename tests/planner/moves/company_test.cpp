/// How often the random generator makes what the rules of turning are about: a rule that no frame puts to the test
/// could be wrong in search and judge alike.
#include <doctest/doctest.h>

#include <algorithm>

#include "planner/moves/moves.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::test {
namespace {

using planner::Refusal;

struct Counts {
  int stopped = 0;  ///< frames in which what a turn carries along stops it at a part that is no stop on the axis
  int further = 0;  ///< of these: what comes to a stop is not the board on the axis itself
  int wide = 0;     ///< frames with a hole that is 30 mm wider than its pipe, or more
};

bool told_by(const planner::ContactList& list, const Refusal& refusal) {
  if (refusal.why != Refusal::Why::board_in_the_way) return false;
  if (refusal.surface != model::kNone || refusal.carried != refusal.moving) return true;
  if (refusal.blocking == model::kNone) return false;
  const auto& at = list.at[static_cast<std::size_t>(refusal.blocking)];
  return std::none_of(at.begin(), at.end(),
                      [&](planner::ContactId c) { return list.contact(c).kind == planner::ContactKind::thread; });
}

void count(const model::Frame& frame, Counts& counts) {
  const planner::ContactList list = planner::contacts_of(frame);
  planner::Undoer undoer(frame, list);
  const planner::State state(list);
  bool stopped = false, further = false;
  for (planner::ContactId c = 0; c < static_cast<planner::ContactId>(list.contacts.size()); ++c) {
    if (list.contact(c).kind != planner::ContactKind::thread) continue;
    for (const Refusal& refusal : undoer.try_undo(state, c).refusals) {
      if (!told_by(list, refusal)) continue;
      stopped = true;
      further = further || refusal.carried != refusal.moving;
    }
  }
  counts.stopped += stopped ? 1 : 0;
  counts.further += further ? 1 : 0;
  const bool wide = std::any_of(frame.boards.begin(), frame.boards.end(), [&](const model::Board& board) {
    return std::any_of(board.holes.begin(), board.holes.end(), [&](const model::Hole& hole) {
      return hole.diameter >= 2.0 * frame.part(hole.pipe).solids.front().radius + 30.0;
    });
  });
  counts.wide += wide ? 1 : 0;
}

TEST_CASE("random frames often have a board that is carried into what stays, and wide holes") {
  Counts counts;
  constexpr std::uint32_t kFrames = 400;
  for (std::uint32_t seed = 1; seed <= kFrames; ++seed) count(random_frame(seed, {3, 16}).frame, counts);
  MESSAGE("of " << kFrames << " frames " << counts.stopped << " are stopped by what they carry, " << counts.further
                << " by what that moves, and " << counts.wide << " have wide holes");
  // Floors set by hand, well under what comes out: often enough that 400 frames meet a rule that is wrong.
  CHECK(counts.stopped >= 4);
  CHECK(counts.further >= 1);
  CHECK(counts.wide >= 4);
}

}  // namespace
}  // namespace dryfit::test
