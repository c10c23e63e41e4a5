#include "planner/moves/parting.hpp"

#include <algorithm>

#include "model/geometry/convex.hpp"

namespace dryfit::planner {

using model::Vec3;

bool drawn_apart(const ContactList& list, PartId a, PartId b, Vec3 sweep) {
  const double length = norm(sweep);
  if (length < 1e-9) return false;
  for (const ContactId c : list.at[static_cast<std::size_t>(a)]) {
    const Contact& k = list.contacts[static_cast<std::size_t>(c)];
    if (k.kind != ContactKind::thread || (k.a != b && k.b != b)) continue;
    const Vec3 out = (k.a == a ? k.axis : -k.axis).unit();  // the male part leaves along the port's facing
    if (dot(sweep, out) > length * (1.0 - 1e-9)) return true;
  }
  return false;
}

bool lifted_off(const model::Frame& frame, const BodyIndex& index, PartId board_part, int carrier_body, Vec3 sweep) {
  const int board = frame.parts[static_cast<std::size_t>(board_part)].board;
  if (board == model::kNone) return false;
  const model::Board& b = frame.boards[static_cast<std::size_t>(board)];
  const PartId carrier = index.bodies()[static_cast<std::size_t>(carrier_body)].part;
  if (std::find(b.carriers.begin(), b.carriers.end(), carrier) == b.carriers.end()) return false;
  const double length = norm(sweep);
  const Vec3 up = b.facing.unit();
  if (length < 1e-9 || dot(sweep, up) < length * (1.0 - 1e-9)) return false;
  return reach_along(index.bodies()[static_cast<std::size_t>(carrier_body)].solid, up) <= dot((b.lo + b.hi) * 0.5, up);
}

}  // namespace dryfit::planner
