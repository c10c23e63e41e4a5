#include "planner/fit/fit_equations.hpp"

#include <cmath>
#include <map>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

using model::Closure;
using model::Frame;
using model::Joint;
using model::kNone;
using model::kRoom;
using model::Part;
using model::PartId;
using model::Vec3;

namespace {

constexpr double kNothing = 1e-9;

void add(std::map<int, double>& sum, int joint, double mm) {
  if (mm != 0.0) sum[joint] += mm;
}

}  // namespace

Vec3 closing_in(const Frame& frame, int joint) {
  const Joint& j = frame.joint(joint);
  return frame.part(j.female).ports[at(j.female_port)].facing.unit() * j.pitch;
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
  const Part& p = frame_.part(part);
  if (p.board != kNone) return {frame_.board(p.board).given_by[at(axis)], kNone};
  const model::PlacedBy& by = frame_.placed_by[at(part)];
  return {by.parent, by.joint};
}

PartId Lineage::root(PartId part, int axis) const {
  if (part == kRoom) return kNone;
  for (PartId up = link(part, axis).parent; up != kNone; up = link(part, axis).parent) part = up;
  return part;
}

std::vector<TurnTerm> Lineage::difference(PartId part, PartId other, int axis) const {
  std::map<int, double> sum;
  const std::vector<int>& depth = depth_[at(axis)];
  // Climbing from a part adds how that part moves as seen from its parent.
  const auto climb = [&](PartId from, double sign) {
    const Link up = link(from, axis);
    if (up.joint != kNone) {
      const bool male = frame_.joint(up.joint).male == from;
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

PartId loose_root(const Frame& frame) {
  PartId found = kNone;
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
    const model::PlacedBy& by = frame.placed_by[at(p)];
    if (by.parent != kNone || frame.part(p).board != kNone) continue;
    if (found != kNone) return kNone;
    found = p;
  }
  if (found == kNone) return kNone;
  const auto& loose = frame.placed_by[at(found)].loose;
  return loose[0] || loose[1] || loose[2] ? found : kNone;
}

std::vector<Equation> equations_of(const Frame& frame, const Lineage& lineage) {
  std::vector<Equation> out;
  const PartId loose = loose_root(frame);
  for (std::size_t c = 0; c < frame.closures.size(); ++c) {
    const Closure& closure = frame.closures[c];
    for (int axis = 0; axis < 3; ++axis) {
      if (!closure.binds[at(axis)]) continue;
      Equation e{static_cast<int>(c), axis, closure.gap[axis], lineage.difference(closure.other, closure.part, axis),
                 0.0};
      if (closure.kind == Closure::Kind::joint && closure.joint != kNone) {
        // The joint itself: what the part expects of the other moves with its own turns too.
        const bool other_is_female = frame.joint(closure.joint).female == closure.other;
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
      if (loose != kNone && frame.placed_by[at(loose)].loose[at(axis)]) {
        e.mm_per_shift = (lineage.root(closure.other, axis) == loose ? 1.0 : 0.0) -
                         (lineage.root(closure.part, axis) == loose ? 1.0 : 0.0);
      }
      out.push_back(std::move(e));
    }
  }
  return out;
}

}  // namespace dryfit::planner
