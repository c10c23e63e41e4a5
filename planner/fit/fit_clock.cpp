#include "planner/fit/fit_clock.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

using model::Frame;
using model::kNone;
using model::Part;
using model::PartId;
using model::PartKind;

bool is_clocked(PartKind kind) {
  switch (kind) {
    case PartKind::elbow:
    case PartKind::elbow45:
    case PartKind::street_elbow:
    case PartKind::tee:
    case PartKind::cross:
    case PartKind::side_elbow:
    case PartKind::side_tee: return true;
    case PartKind::pipe:
    case PartKind::coupling:
    case PartKind::cap:
    case PartKind::plug:
    case PartKind::bushing:
    case PartKind::flange:
    case PartKind::union_half:
    case PartKind::board:
    case PartKind::foot:
    case PartKind::caster: return false;
  }
  return false;
}

namespace {

/// The joint on the far side of a round part, or kNone when its chain ends there.
int far_joint(const Part& part, int joint) {
  if (part.kind == PartKind::union_half || part.kind == PartKind::flange) return kNone;
  for (const model::Port& port : part.ports) {
    if (port.joint != kNone && port.joint != joint) return port.joint;
  }
  return kNone;
}

PartId across(const Frame& frame, int joint, PartId from) {
  const model::Joint& j = frame.joint(joint);
  return j.male == from ? j.female : j.male;
}

}  // namespace

std::vector<std::vector<int>> clocked_chains(const Frame& frame) {
  std::vector<std::vector<int>> chains;
  std::vector<bool> seen(frame.joints.size(), false);
  for (PartId start = 0; start < static_cast<PartId>(frame.parts.size()); ++start) {
    const Part& first = frame.part(start);
    if (!is_clocked(first.kind)) continue;
    for (const model::Port& port : first.ports) {
      if (port.joint == kNone || seen[dryfit::at(port.joint)]) continue;
      std::vector<int> chain;
      PartId at = start;
      int joint = port.joint;
      bool bound = false;
      while (joint != kNone && !seen[dryfit::at(joint)]) {
        seen[dryfit::at(joint)] = true;
        chain.push_back(joint);
        at = across(frame, joint, at);
        const Part& part = frame.part(at);
        bound = is_clocked(part.kind);
        joint = bound ? kNone : far_joint(part, joint);
      }
      if (!bound) continue;
      std::sort(chain.begin(), chain.end());
      chains.push_back(std::move(chain));
    }
  }
  std::sort(chains.begin(), chains.end());
  return chains;
}

}  // namespace dryfit::planner
