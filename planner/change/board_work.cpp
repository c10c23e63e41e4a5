#include "planner/change/board_work.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"
#include "planner/change/same_place.hpp"

namespace dryfit::planner {
namespace {

using model::Board;
using model::Hole;
using model::Vec3;

/// The board's box is carried onto that of the other.
bool carries_size(const Board& before, const Board& after, const QuarterTurn& turn) {
  const Vec3 size = turn.of(before.hi - before.lo);
  return near({std::abs(size.x), std::abs(size.y), std::abs(size.z)}, after.hi - after.lo);
}

/// Where a hole lies in the plane of the new board, from its middle, once the board is laid by `turn`.
Vec3 place_of(const Board& before, const Hole& hole, const Board& after, const QuarterTurn& turn) {
  Vec3 at = turn.of(hole.centre - (before.lo + before.hi) * 0.5);
  at[after.normal] = 0;
  return at;
}

Vec3 place_of(const Hole& hole, const Board& board) {
  Vec3 at = hole.centre - (board.lo + board.hi) * 0.5;
  at[board.normal] = 0;
  return at;
}

BoardWork laid_by(const Board& before, const Board& after, const QuarterTurn& turn) {
  BoardWork work;
  std::vector<char> used(before.holes.size(), 0);
  work.holes.resize(after.holes.size());
  for (std::size_t i = 0; i < after.holes.size(); ++i) work.holes[i].hole = static_cast<int>(i);
  for (std::size_t o = 0; o < before.holes.size(); ++o) {
    const int n = same_hole(before, before.holes[o], after, turn);
    if (n < 0 || work.holes[dryfit::at(n)].from >= 0) continue;
    work.holes[dryfit::at(n)].from = static_cast<int>(o);
    work.holes[dryfit::at(n)].ready = true;
    used[o] = 1;
  }
  for (NewHole& fresh : work.holes) {
    if (fresh.ready) continue;
    const Hole& wanted = after.holes[dryfit::at(fresh.hole)];
    for (std::size_t o = 0; o < before.holes.size(); ++o) {
      const Hole& old = before.holes[o];
      if (used[o] != 0) continue;
      const double apart = norm(place_of(before, old, after, turn) - place_of(wanted, after));
      if (apart < kOnePlace && !old.notch && old.diameter < wanted.diameter + kOnePlace) {
        fresh.from = static_cast<int>(o);
        used[o] = 1;
        break;
      }
    }
    if (fresh.from >= 0) continue;
    for (std::size_t o = 0; o < before.holes.size() && fresh.runs_into < 0; ++o) {
      const Hole& old = before.holes[o];
      const double apart = norm(place_of(before, old, after, turn) - place_of(wanted, after));
      if (apart < (old.diameter + wanted.diameter) / 2) fresh.runs_into = static_cast<int>(o);
    }
  }
  for (std::size_t o = 0; o < before.holes.size(); ++o) {
    const bool swallowed = std::any_of(work.holes.begin(), work.holes.end(), [&](const NewHole& n) {
      const Hole& wanted = after.holes[dryfit::at(n.hole)];
      const double apart = norm(place_of(before, before.holes[o], after, turn) - place_of(wanted, after));
      return n.runs_into == static_cast<int>(o) &&
             apart + before.holes[o].diameter / 2 <= wanted.diameter / 2 + kOnePlace;
    });
    if (used[o] == 0 && !swallowed) work.left_open.push_back(static_cast<int>(o));
  }
  return work;
}

int to_drill_count(const BoardWork& work) {
  return static_cast<int>(
      std::count_if(work.holes.begin(), work.holes.end(), [](const NewHole& hole) { return !hole.ready; }));
}

Laid laid_how(const Board& before, const Board& after, const QuarterTurn& turn, const QuarterTurn& usual) {
  if (!near(turn.of(before.facing.unit()), after.facing.unit())) return Laid::other_face_up;
  Vec3 across{1, 1, 1};
  across[before.normal] = 0;
  const Vec3 a = turn.of(across), b = usual.of(across);
  if (near(a, b)) return Laid::as_before;
  return near(a, -b) ? Laid::half_turn : Laid::quarter_turn;
}

}  // namespace

int same_hole(const Board& before, const Hole& hole, const Board& after, const QuarterTurn& turn) {
  const Vec3 at = place_of(before, hole, after, turn);
  for (std::size_t i = 0; i < after.holes.size(); ++i) {
    const Hole& candidate = after.holes[i];
    if (candidate.notch != hole.notch || !near(candidate.diameter, hole.diameter)) continue;
    if (!near(at, place_of(candidate, after))) continue;
    if (hole.notch && !near(turn.of(hole.open.unit()), candidate.open.unit())) continue;
    return static_cast<int>(i);
  }
  return -1;
}

const QuarterTurn& as_it_lies(const Board& before, const Board& after) {
  for (const QuarterTurn& turn : quarter_turns()) {
    if (carries_size(before, after, turn) && near(turn.of(before.facing.unit()), after.facing.unit())) return turn;
  }
  return quarter_turns().front();
}

bool needs_new_hole(const Board& before, const Board& after) {
  const QuarterTurn& turn = as_it_lies(before, after);
  std::size_t found = 0;
  for (const Hole& hole : before.holes) found += same_hole(before, hole, after, turn) >= 0 ? 1U : 0U;
  return found < after.holes.size();
}

bool BoardWork::to_drill() const { return to_drill_count(*this) > 0; }

BoardWork board_work(const model::Frame& old_frame, model::PartId board, const model::Frame& new_frame,
                     model::PartId as, bool may_turn) {
  const Board& before = old_frame.board_of(board);
  const Board& after = new_frame.board_of(as);
  const QuarterTurn& usual = as_it_lies(before, after);
  BoardWork best = laid_by(before, after, usual);
  if (may_turn) {
    // Face up first: turning a board over shows its other side.
    for (const bool same_face : {true, false}) {
      for (const QuarterTurn& turn : quarter_turns()) {
        if (!carries_size(before, after, turn)) continue;
        if (near(turn.of(before.facing.unit()), after.facing.unit()) != same_face) continue;
        if (!same_face && !near(turn.of(before.facing.unit()), -after.facing.unit())) continue;
        BoardWork work = laid_by(before, after, turn);
        if (to_drill_count(work) >= to_drill_count(best)) continue;
        work.laid = laid_how(before, after, turn, usual);
        best = std::move(work);
      }
    }
  }
  best.board = board;
  best.as = as;
  return best;
}

}  // namespace dryfit::planner
