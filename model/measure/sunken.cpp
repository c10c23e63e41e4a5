#include "model/measure/sunken.hpp"

#include <algorithm>

#include "model/geometry/convex.hpp"

namespace dryfit::model {
namespace {

/// How far the part stands above where the drawing has the board's underside.
double too_high(const Frame& frame, const Board& board, PartId part) {
  const Vec3 up = board.facing.unit();
  double top = -1e300;
  for (const Solid& solid : frame.part(part).solids) top = std::max(top, reach_along(solid, up));
  const double under = -reach_along(box(board.lo, board.hi), -up);
  return top - under;
}

/// The board's wood, moved by `lift`, and the part are in one place.
bool meets(const Wood& wood, Vec3 lift, const Part& part) {
  const Solid plank = box(wood.lo + lift, wood.hi + lift);
  Wood moved = wood;
  moved.lo += lift;
  moved.hi += lift;
  for (Opening& opening : moved.openings) opening.centre += lift;
  return std::any_of(part.solids.begin(), part.solids.end(), [&](const Solid& solid) {
    return hits(Thing{plank, &moved}, Thing{solid});
  });
}

/// What is joined to a part, and whether below or above it.
struct Neighbour {
  PartId part = kNone;
  bool in_column = false;
};

std::vector<Neighbour> joined_to(const Frame& frame, PartId part, Direction facing) {
  std::vector<Neighbour> next;
  for (const Port& port : frame.part(part).ports) {
    if (port.joint == kNone) continue;
    const Joint& joint = frame.joint(port.joint);
    next.push_back({joint.male == part ? joint.female : joint.male, parallel(port.facing, facing)});
  }
  if (frame.part(part).union_mate != kNone) next.push_back({frame.part(part).union_mate, true});
  return next;
}

/// Per board the flanges that are screwed to its underside. O(parts + fastenings).
std::vector<std::vector<PartId>> flanges_below(const Frame& frame) {
  std::vector<std::vector<PartId>> all(frame.boards.size());
  for (const Fastening& made : frame.fastenings) {
    if (made.kind != Fastening::Kind::flange_to_board) continue;
    const int board = frame.part(made.other).board;
    if (frame.part(made.part).ports.front().facing == -frame.board(board).facing) all[at(board)].push_back(made.part);
  }
  return all;
}

/// `flanges`: those screwed to the board's underside, which bear on it as its carriers do.
void fill(const Frame& frame, const std::vector<PartId>& flanges, Board& board) {
  board.sunken.clear();
  constexpr double kHigh = 0.5;  // mm: less is no closure either
  double highest = 0.0;
  std::vector<PartId> known;  // the columns of what stands too high, and what sticks out of them into the wood
  std::vector<PartId> bearing = board.carriers;
  bearing.insert(bearing.end(), flanges.begin(), flanges.end());
  for (const PartId part : bearing) {
    const double above = too_high(frame, board, part);
    highest = std::max(highest, above);
    if (above > kHigh) known.push_back(part);
  }
  if (known.empty()) return;
  const Wood wood = wood_of(board);
  const Vec3 lift = board.facing.unit() * highest;
  for (std::size_t i = 0; i < known.size(); ++i) {
    for (const Neighbour& next : joined_to(frame, known[i], board.facing)) {
      if (std::find(known.begin(), known.end(), next.part) != known.end()) continue;
      const bool sunken = meets(wood, {}, frame.part(next.part)) && !meets(wood, lift, frame.part(next.part));
      if (sunken) board.sunken.push_back(next.part);
      if (sunken || next.in_column) known.push_back(next.part);
    }
  }
  std::sort(board.sunken.begin(), board.sunken.end());
}

}  // namespace

void find_sunken(Frame& frame) {
  const std::vector<std::vector<PartId>> flanges = flanges_below(frame);
  for (std::size_t b = 0; b < frame.boards.size(); ++b) fill(frame, flanges[b], frame.boards[b]);
}

}  // namespace dryfit::model
