#include "planner/state/no_rest.hpp"

#include <algorithm>

namespace dryfit::planner {

using model::Board;
using model::Frame;
using model::Hole;
using model::kNone;
using model::Part;
using model::PartId;
using model::Solid;

namespace {

constexpr double kOnAxis = 0.5;  ///< mm: a body this near to a hole's line stands on it

bool within(const Part& part, const Board& board, const Hole& hole) {
  return std::all_of(part.solids.begin(), part.solids.end(), [&](const Solid& solid) {
    if (solid.shape != Solid::Shape::cylinder || solid.along.axis() != board.normal) return false;
    model::Vec3 off = solid.a - hole.centre;
    off[board.normal] = 0.0;
    return norm(off) <= kOnAxis && 2.0 * solid.radius < hole.diameter;
  });
}

bool is_fastened(const Frame& frame, PartId board) {
  return std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                     [&](const model::Fastening& made) { return made.part == board || made.other == board; });
}

}  // namespace

bool passes_its_hole(const Frame& frame, const Board& board, PartId carrier) {
  const Part& part = frame.part(carrier);
  return std::any_of(board.holes.begin(), board.holes.end(), [&](const Hole& hole) {
    return within(part, board, hole) && (part.union_mate == kNone || within(frame.part(part.union_mate), board, hole));
  });
}

std::vector<PartId> without_rest(const Frame& frame) {
  std::vector<PartId> out;
  for (const Board& board : frame.boards) {
    if (!board.stands_on_carriers) continue;
    const auto passed = std::count_if(board.carriers.begin(), board.carriers.end(),
                                      [&](PartId carrier) { return passes_its_hole(frame, board, carrier); });
    const auto left = static_cast<std::ptrdiff_t>(board.carriers.size()) - passed;
    if (passed > 0 && left < 2 && !is_fastened(frame, board.part)) out.push_back(board.part);
  }
  return out;
}

}  // namespace dryfit::planner
