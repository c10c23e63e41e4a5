#include "tests/support/oracle/oracle_apart.hpp"

#include <algorithm>

#include "tests/support/oracle/sampled_motion.hpp"

namespace dryfit::test {

bool carried_apart(const model::Frame& frame, const std::set<model::PartId>& one, const std::set<model::PartId>& other,
                   bool other_in_room) {
  constexpr double kFarAway = 5000.0;  // mm: longer than any of the frames
  constexpr double kTouching = 0.5;
  const auto in_room = [&](Vec3 travel) {
    return !other_in_room || std::none_of(frame.surfaces.begin(), frame.surfaces.end(), [&](const model::Surface& s) {
      return dot(travel, s.normal.unit()) < -1.0;  // far enough to be through it
    });
  };
  const auto clear = [&](Vec3 travel) {
    if (!in_room(travel)) return false;
    return std::none_of(one.begin(), one.end(), [&](model::PartId a) {
      return std::any_of(other.begin(), other.end(), [&](model::PartId b) {
        const auto& mine = frame.part(a).solids;
        const auto& its = frame.part(b).solids;
        return std::any_of(mine.begin(), mine.end(), [&](const Solid& sa) {
          return std::any_of(its.begin(), its.end(),
                             [&](const Solid& sb) { return slide_hits(sa, sb, travel, kTouching); });
        });
      });
    });
  };
  for (int i = 0; i < 27; ++i) {
    const Vec3 way{static_cast<double>(i % 3 - 1), static_cast<double>(i / 3 % 3 - 1), static_cast<double>(i / 9 - 1)};
    if (i != 13 && clear(way * kFarAway)) return true;
  }
  return false;
}

}  // namespace dryfit::test
