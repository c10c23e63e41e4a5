#include "planner/moves/parting.hpp"

#include "model/geometry/at.hpp"

namespace dryfit::planner {

using model::Vec3;

namespace {

/// The two make up a thread in the finished frame, and `a` moved by `sweep` goes straight out of it.
bool drawn_apart(const ContactList& list, PartId a, PartId b, Vec3 sweep) {
  const double length = norm(sweep);
  if (length < 1e-9) return false;
  for (const ContactId c : list.at[at(a)]) {
    const Contact& k = list.contact(c);
    if (k.kind != ContactKind::thread || (k.a != b && k.b != b)) continue;
    const Vec3 out = (k.a == a ? k.axis : -k.axis).unit();  // the male part leaves along the port's facing
    if (dot(sweep, out) > length * (1.0 - 1e-9)) return true;
  }
  return false;
}

}  // namespace

bool leaves_carrier(const model::Frame& frame, PartId board_part, PartId carrier, Vec3 sweep) {
  const int board = frame.part(board_part).board;
  if (board == model::kNone) return false;
  const model::Board& b = frame.board(board);
  if (!b.lies_over(carrier)) return false;
  return dot(sweep, b.facing.unit()) >= -1e-9 * norm(sweep);
}

bool goes_apart(const model::Frame& frame, const ContactList& list, PartId moved, PartId left, Vec3 sweep) {
  return drawn_apart(list, moved, left, sweep) || leaves_carrier(frame, moved, left, sweep) ||
         leaves_carrier(frame, left, moved, -sweep);
}

double touch_between(const model::Frame& frame, const ContactList& list, PartId a, PartId b) {
  return frame.part(a).union_mate == b ? 3.0 : list.touch;
}

}  // namespace dryfit::planner
