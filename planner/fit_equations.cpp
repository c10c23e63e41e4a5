#include "planner/fit_equations.hpp"

#include <cmath>
#include <map>

namespace dryfit::planner {

using model::Closure;
using model::Frame;
using model::Joint;
using model::kNone;
using model::kRoom;
using model::Part;
using model::PartId;
using model::PartKind;
using model::Vec3;

namespace {

constexpr double kNothing = 1e-9;

std::size_t at(int index) { return static_cast<std::size_t>(index); }

void add(std::map<int, double>& sum, int joint, double mm) {
  if (mm != 0.0) sum[joint] += mm;
}

}  // namespace

Vec3 closing_in(const Frame& frame, int joint) {
  const Joint& j = frame.joints[at(joint)];
  return frame.parts[at(j.female)].ports[at(j.female_port)].facing.unit() * j.pitch;
}

Lineage::Lineage(const Frame& frame) : frame_(frame) {
  const std::size_t n = frame.parts.size();
  for (int axis = 0; axis < 3; ++axis) {
    std::vector<int>& depth = depth_[at(axis)];
    depth.assign(n, -1);
    std::vector<PartId> way;
    for (PartId start = 0; start < static_cast<PartId>(n); ++start) {
      PartId part = start;
      // A way longer than the list of parts would be a circle; the reader places no part by itself.
      while (part != kNone && depth[at(part)] < 0 && way.size() <= n) {
        way.push_back(part);
        part = link(part, axis).parent;
      }
      int d = part == kNone ? -1 : depth[at(part)];
      for (; !way.empty(); way.pop_back()) depth[at(way.back())] = ++d;
    }
  }
}

Lineage::Link Lineage::link(PartId part, int axis) const {
  const model::PlacedBy& by = frame_.placed_by[at(part)];
  const Part& p = frame_.parts[at(part)];
  if (p.kind != PartKind::board || p.board == kNone) return {by.parent, by.joint};
  if (by.parent != kNone && frame_.parts[at(by.parent)].kind == PartKind::flange) return {by.parent, by.joint};
  const model::Board& board = frame_.boards[at(p.board)];
  if (axis == board.normal) {
    if (!board.stands_on_carriers) return {};
    if (!board.carriers.empty()) return {board.carriers.front(), kNone};
    return {by.parent, by.joint};
  }
  return {by.parent, by.joint};
}

std::vector<TurnTerm> Lineage::difference(PartId part, PartId other, int axis) const {
  std::map<int, double> sum;
  const std::vector<int>& depth = depth_[at(axis)];
  // Climbing from a part adds how that part moves as seen from its parent.
  const auto climb = [&](PartId from, double sign) {
    const Link up = link(from, axis);
    if (up.joint != kNone) {
      const bool male = frame_.joints[at(up.joint)].male == from;
      add(sum, up.joint, (male ? -sign : sign) * closing_in(frame_, up.joint)[axis]);
    }
    return up.parent;
  };
  PartId a = part == kRoom ? kNone : part;
  PartId b = other == kRoom ? kNone : other;
  while (a != b) {
    const int da = a == kNone ? -1 : depth[at(a)];
    const int db = b == kNone ? -1 : depth[at(b)];
    if (da >= db) {
      a = climb(a, 1.0);
    } else {
      b = climb(b, -1.0);
    }
  }
  std::vector<TurnTerm> out;
  for (const auto& [joint, mm] : sum) {
    if (std::abs(mm) > kNothing) out.push_back({joint, mm});
  }
  return out;
}

std::vector<Equation> equations_of(const Frame& frame, const Lineage& lineage) {
  std::vector<Equation> out;
  for (std::size_t c = 0; c < frame.closures.size(); ++c) {
    const Closure& closure = frame.closures[c];
    for (int axis = 0; axis < 3; ++axis) {
      if (!closure.binds[at(axis)]) continue;
      Equation e{static_cast<int>(c), axis, closure.gap[axis], lineage.difference(closure.other, closure.part, axis)};
      if (closure.kind == Closure::Kind::joint && closure.joint != kNone) {
        // The joint itself: what the part expects of the other moves with its own turns too.
        const bool other_is_female = frame.joints[at(closure.joint)].female == closure.other;
        const double own = (other_is_female ? -1.0 : 1.0) * closing_in(frame, closure.joint)[axis];
        if (std::abs(own) > kNothing) {
          std::map<int, double> sum;
          for (const TurnTerm& term : e.terms) sum[term.joint] = term.mm_per_turn;
          sum[closure.joint] += own;
          e.terms.clear();
          for (const auto& [joint, mm] : sum) {
            if (std::abs(mm) > kNothing) e.terms.push_back({joint, mm});
          }
        }
      }
      out.push_back(std::move(e));
    }
  }
  return out;
}

}  // namespace dryfit::planner
