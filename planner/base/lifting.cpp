#include "planner/base/lifting.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <string_view>

#include "model/standards/standards.hpp"
#include "model/standards/tables.hpp"

namespace dryfit::planner {
namespace {

constexpr double kClose = 250.0;  // mm: as near as the equation lets a load be held

/// A limit of the hands' work, see model/data/effort.csv.
double limit_of(std::string_view name) {
  const model::Table table = model::Table::built_in("effort.csv");
  for (std::size_t row = 0; row < table.rows(); ++row) {
    if (table.at(row, "rate") == name) return table.number(row, "value");
  }
  throw std::logic_error("effort.csv has no " + std::string(name));
}

}  // namespace

model::Bounds bounds_of_part(const model::Part& part) {
  if (part.solids.empty()) return {part.centre, part.centre};
  model::Bounds box = bounds_of(part.solids.front());
  for (const model::Solid& solid : part.solids) {
    const model::Bounds one = bounds_of(solid);
    for (int i = 0; i < 3; ++i) {
      box.lo[i] = std::min(box.lo[i], one.lo[i]);
      box.hi[i] = std::max(box.hi[i], one.hi[i]);
    }
  }
  return box;
}

double held_out(double width) {
  static const double kHands = model::hands_in_front().value;
  return std::max(kClose, kHands + width / 2.0);
}

double one_person_limit(double out) {
  static const double kLoad = model::lifting_limit().value, kFarthest = model::farthest_held().value;
  return out > kFarthest ? 0.0 : kLoad * kClose / out;
}

Lift lift_of(double mass, const model::Bounds& bounds) {
  static const double kInOneHand = limit_of("in-one-hand");
  const model::Vec3 size = bounds.hi - bounds.lo;
  Lift lift;
  lift.mass = mass;
  lift.held_out = held_out(std::min(size.x, size.y));
  lift.limit = std::max(one_person_limit(lift.held_out), kInOneHand);
  if (mass > lift.limit) lift.people = std::max(2, static_cast<int>(std::ceil(mass / one_person_limit(kClose))));
  return lift;
}

Lift lift_of(const model::Part& part) { return lift_of(part.mass, bounds_of_part(part)); }

double arm_length() {
  static const double kArm = limit_of("arm-length");
  return kArm;
}

}  // namespace dryfit::planner
