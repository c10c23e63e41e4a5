#include <algorithm>

#include "tests/support/oracle/oracle.hpp"
#include "tests/support/oracle/oracle_judge.hpp"

namespace dryfit::test {
namespace {

bool joined(const Frame& frame, PartId a, PartId b) {
  const auto pair = [&](PartId x, PartId y) { return (x == a && y == b) || (x == b && y == a); };
  return frame.part(a).union_mate == b ||
         std::any_of(frame.joints.begin(), frame.joints.end(),
                     [&](const model::Joint& j) { return pair(j.male, j.female); }) ||
         std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                     [&](const model::Fastening& f) { return pair(f.part, f.other); });
}

}  // namespace

std::vector<std::string> overlaps(const model::Frame& frame, double depth) {
  std::vector<std::string> out;
  Judge judge(frame);
  const auto count = static_cast<PartId>(frame.parts.size());
  for (PartId a = 0; a < count; ++a) {
    const Part& pa = frame.part(a);
    for (const model::Surface& surface : frame.surfaces) {
      const Direction n = surface.normal;
      for (const Solid& s : pa.solids) {
        if (reach_of(s, -n.unit()) + surface.at * (n.x + n.y + n.z) > depth) out.push_back(pa.id + " in " + surface.id);
      }
    }
    for (PartId b = a + 1; b < count; ++b) {
      if (joined(frame, a, b)) continue;
      const Part& pb = frame.part(b);
      bool hit = false;
      for (const Solid& sa : pa.solids) {
        for (const Solid& sb : pb.solids) {
          const Board* board_a = judge.board_of(a);
          const Board* board_b = judge.board_of(b);
          const Hole* hole = board_a != nullptr   ? judge.hole_for(*board_a, sb)
                             : board_b != nullptr ? judge.hole_for(*board_b, sa)
                                                  : nullptr;
          const double radius = board_a != nullptr ? sb.radius : sa.radius;
          if (hole != nullptr && hole->diameter >= 2.0 * radius) continue;
          hit = hit || slide_hits(sa, sb, {}, depth);
        }
      }
      if (hit) out.push_back(pa.id + " in " + pb.id);
    }
  }
  return out;
}

}  // namespace dryfit::test
