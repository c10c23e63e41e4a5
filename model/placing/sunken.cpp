#include "model/placing/sunken.hpp"

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

/// What bears on the board from below: carriers, and flanges that are screwed to its underside.
std::vector<PartId> bearing(const Frame& frame, const Board& board) {
  std::vector<PartId> all = board.carriers;
  for (const Fastening& made : frame.fastenings) {
    if (made.kind != Fastening::Kind::flange_to_board || made.other != board.part) continue;
    if (frame.part(made.part).ports.front().facing == -board.facing) all.push_back(made.part);
  }
  return all;
}

void fill(const Frame& frame, Board& board) {
  constexpr double kHigh = 0.5;  // mm: less is no closure either
  double highest = 0.0;
  std::vector<PartId> known;  // the columns of what stands too high, and what sticks out of them into the wood
  for (const PartId part : bearing(frame, board)) {
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
  for (Board& board : frame.boards) fill(frame, board);
}

}  // namespace dryfit::model
