#include "planner/state/lying_board.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/convex.hpp"

namespace dryfit::planner {
namespace {

/// How far the part reaches along a direction of an axis.
double farthest(const model::Part& part, model::Direction d) {
  double most = -1e300;
  for (const model::Solid& solid : part.solids) most = std::max(most, reach_along(solid, d.unit()));
  return most;
}

bool reaches_in_from_below(const model::Board& board, const model::Part& board_part, const model::Part& other) {
  const double under = -farthest(board_part, -board.facing), over = farthest(board_part, board.facing);
  return -farthest(other, -board.facing) < under && farthest(other, board.facing) < over;
}

}  // namespace

const model::Board* lying_board(const model::Frame& frame, model::PartId part) {
  if (frame.part(part).board == model::kNone) return nullptr;
  const model::Board& board = frame.board_of(part);
  return board.stands_on_carriers && !board.carriers.empty() ? &board : nullptr;
}

model::PartId would_lie(const model::Frame& frame, model::PartId a, model::PartId b) {
  for (const auto& [one, other] : {std::pair(b, a), std::pair(a, b)}) {
    const model::Board* board = lying_board(frame, one);
    if (board != nullptr && reaches_in_from_below(*board, frame.part(one), frame.part(other))) return one;
  }
  return model::kNone;
}

}  // namespace dryfit::planner
