#include "tests/support/naive/naive_pieces.hpp"

#include <algorithm>
#include <limits>

#include "model/standards/tables.hpp"

namespace dryfit::test {

using planner::Contact;
using planner::ContactId;
using planner::ContactKind;
using planner::ContactList;

double rate(const std::string& name) {
  static const model::Table kTable = model::Table::built_in("effort.csv");
  for (std::size_t row = 0; row < kTable.rows(); ++row) {
    if (kTable.at(row, "rate") == name) return kTable.number(row, "value");
  }
  return std::numeric_limits<double>::quiet_NaN();
}

const Contact& contact(const ContactList& list, ContactId c) { return list.contact(c); }

bool hole_like(const Contact& c) { return c.kind == ContactKind::hole || c.kind == ContactKind::notch; }

/// All vertices that hang together with `start` through the made contacts that `counts` admits; the room is a vertex.
std::set<int> together(const ContactList& list, const std::vector<char>& made, int start,
                       const std::function<bool(const Contact&)>& counts) {
  std::set<int> found{start};
  for (bool grows = true; grows;) {
    grows = false;
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (made[c] == 0 || !counts(list.contacts[c])) continue;
      const int a = list.vertex(list.contacts[c].a), b = list.vertex(list.contacts[c].b);
      if (found.count(a) != found.count(b)) {
        found.insert(a);
        found.insert(b);
        grows = true;
      }
    }
  }
  return found;
}

std::set<int> without_room(const ContactList& list, std::set<int> vertices) {
  vertices.erase(list.room());
  return vertices;
}

double mass(const model::Frame& frame, const std::set<int>& parts) {
  double sum = 0.0;
  for (const int p : parts) sum += frame.part(p).mass;
  return sum;
}

model::Bounds box_of(const model::Frame& frame, const std::set<int>& parts) {
  const double far = std::numeric_limits<double>::infinity();
  model::Bounds box{{far, far, far}, {-far, -far, -far}};
  for (const int p : parts) {
    for (const model::Solid& solid : frame.part(p).solids) {
      const model::Bounds one = bounds_of(solid);
      for (int i = 0; i < 3; ++i) {
        box.lo[i] = std::min(box.lo[i], one.lo[i]);
        box.hi[i] = std::max(box.hi[i], one.hi[i]);
      }
    }
  }
  return box;
}

double carry(const model::Frame& frame, const std::set<int>& parts, int people) {
  if (parts.size() == 1) return 0.0;
  const model::Bounds box = box_of(frame, parts);
  // NIOSH: 23 kg at 25 cm and less in proportion to the distance, nothing beyond 63 cm.
  const double middle = 200.0 + std::min(box.hi.x - box.lo.x, box.hi.y - box.lo.y) / 2.0;
  const double limit = middle > 630.0 ? 0.0 : middle < 250.0 ? 23.0 : 23.0 * 250.0 / middle;
  const double weight = mass(frame, parts);
  const bool one = weight <= limit || weight <= rate("in-one-hand");
  const double factor = one ? 1.0 : people > 1 ? rate("second-person") : rate("alone-over-limit");
  return rate("carry-piece") * weight * factor;
}

std::set<int> together(const ContactList& list, const std::vector<char>& made, int start) {
  return together(list, made, start, [](const Contact&) { return true; });
}

}  // namespace dryfit::test
