#include "planner/moves/wide_on_line.hpp"

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/parting.hpp"

namespace dryfit::planner {

using model::Vec3;

const WideOnLine::Ahead& WideOnLine::of(ContactId contact, model::Direction leaving) {
  const Contact& hole = list_.contact(contact);
  if (known_.empty()) return found_ = found(hole, leaving.unit());
  auto& known = known_[at(contact)][leaving == hole.axis ? 0 : 1];
  if (!known) known = found(hole, leaving.unit());
  return *known;
}

WideOnLine::Ahead WideOnLine::found(const Contact& contact, Vec3 leaving) const {
  const model::Board& board = frame_.board_of(contact.a);
  const double hole = board.holes[at(contact.hole)].diameter;
  const model::Solid whole = model::box(board.lo, board.hi);
  const double back = -reach_along(whole, -leaving);
  Ahead ahead;
  ahead.front = reach_along(whole, leaving);
  for (const int i : index_.on_line(contact.line)) {
    const Body& body = index_.bodies()[at(i)];
    if (list_.goes_through(2.0 * body.solid.radius, hole)) continue;
    const double tail = -reach_along(body.solid, -leaving), tip = reach_along(body.solid, leaving);
    // What is behind, or pokes into the board's hinder face, is left behind.
    if (tip <= back + list_.touch || (tail < back && tip < ahead.front)) continue;
    if (leaves_carrier(frame_, contact.a, body.part, leaving)) continue;
    ahead.bodies.push_back({i, tail});
  }
  return ahead;
}

}  // namespace dryfit::planner
