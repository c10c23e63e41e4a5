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

/// How much narrower than the hole the part is that stands on its line, mm; nothing where it is not.
std::optional<double> within(const Part& part, const Board& board, const Hole& hole) {
  double play = hole.diameter;
  for (const Solid& solid : part.solids) {
    if (solid.shape != Solid::Shape::cylinder || solid.along.axis() != board.normal) return std::nullopt;
    model::Vec3 off = solid.a - hole.centre;
    off[board.normal] = 0.0;
    play = std::min(play, hole.diameter - 2.0 * solid.radius);
    if (norm(off) > kOnAxis || play <= 0.0) return std::nullopt;
  }
  return play;
}

bool is_fastened(const Frame& frame, PartId board) {
  return std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                     [&](const model::Fastening& made) { return made.part == board || made.other == board; });
}

}  // namespace

std::optional<double> play_over_carrier(const Frame& frame, const Board& board, PartId carrier) {
  const Part& part = frame.part(carrier);
  for (const Hole& hole : board.holes) {
    const auto play = within(part, board, hole);
    if (!play) continue;
    if (part.union_mate == kNone) return play;
    if (const auto mate = within(frame.part(part.union_mate), board, hole)) return std::min(*play, *mate);
  }
  return std::nullopt;
}

bool passes_its_hole(const Frame& frame, const Board& board, PartId carrier) {
  return play_over_carrier(frame, board, carrier).has_value();
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
