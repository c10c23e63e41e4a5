#include "cli/draw/picture/step_help.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <set>

#include "model/geometry/solid.hpp"

namespace dryfit::cli {
namespace {

using model::Frame;
using model::PartId;

/// The bounds of a part as it lies in the room.
model::Bounds lying_bounds(const model::Part& part, const model::Attitude& lies) {
  model::Bounds out;
  bool first = true;
  for (const model::Solid& solid : part.solids) {
    const model::Bounds own = model::bounds_of(solid);
    for (const Vec3& corner : {lies(own.lo), lies(own.hi)}) {
      for (int axis = 0; axis < 3; ++axis) {
        out.lo[axis] = first ? corner[axis] : std::min(out.lo[axis], corner[axis]);
        out.hi[axis] = first ? corner[axis] : std::max(out.hi[axis], corner[axis]);
      }
      first = false;
    }
  }
  return out;
}

/// How what is shown stands: what is on the floor, and to which side it falls.
struct Footing {
  double floor = std::numeric_limits<double>::infinity();
  Vec3 lo{1e300, 1e300, 0.0}, hi{-1e300, -1e300, 0.0};  ///< of what touches the floor
  Vec3 falls;                                           ///< level; from the middle of that to the centre of mass
};

Footing footing_of(const Frame& frame, const std::vector<PartId>& shown, const model::Attitude& lies) {
  constexpr double kTouches = 5.0;
  Footing out;
  for (const PartId id : shown) out.floor = std::min(out.floor, lying_bounds(frame.part(id), lies).lo.z);
  Vec3 heavy;
  double mass = 0.0;
  for (const PartId id : shown) {
    const model::Part& part = frame.part(id);
    const model::Bounds bounds = lying_bounds(part, lies);
    heavy = heavy + (bounds.lo + bounds.hi) * (0.5 * part.mass);
    mass += part.mass;
    if (bounds.lo.z > out.floor + kTouches) continue;
    for (int axis = 0; axis < 2; ++axis) {
      out.lo[axis] = std::min(out.lo[axis], bounds.lo[axis]);
      out.hi[axis] = std::max(out.hi[axis], bounds.hi[axis]);
    }
  }
  if (mass > 0.0) out.falls = heavy * (1.0 / mass) - (out.lo + out.hi) * 0.5;
  out.falls.z = 0.0;
  return out;
}

/// Under what hangs out farthest to where the work falls, clear of what stands on the floor.
std::optional<Prop> prop_under(const Frame& frame, const std::vector<PartId>& shown, const model::Attitude& lies) {
  constexpr double kFeltFall = 10.0, kHigh = 60.0, kInward = 15.0;
  const Footing footing = footing_of(frame, shown, lies);
  if (norm(footing.falls) < kFeltFall) return std::nullopt;
  const int axis = std::abs(footing.falls.x) >= std::abs(footing.falls.y) ? 0 : 1;
  const double way = footing.falls[axis] > 0.0 ? 1.0 : -1.0;
  const double edge = way > 0.0 ? footing.hi[axis] : footing.lo[axis];
  std::optional<Prop> best;
  double farthest = 0.0;
  for (const PartId id : shown) {
    const model::Bounds bounds = lying_bounds(frame.part(id), lies);
    const double end = way > 0.0 ? bounds.hi[axis] : bounds.lo[axis];
    const double out = way * (end - edge);
    if (bounds.lo.z < footing.floor + kHigh || out < kHigh || out <= farthest + 1e-6) continue;
    farthest = out;
    Vec3 head = (bounds.lo + bounds.hi) * 0.5;
    head[axis] = end - way * std::min(kInward, 0.5 * (bounds.hi[axis] - bounds.lo[axis]));
    head.z = bounds.lo.z;
    best = Prop{id, lies.own(Vec3{head.x, head.y, footing.floor}), lies.own(head)};
  }
  return best;
}

PartId highest_of(const Frame& frame, const std::vector<PartId>& shown, const model::Attitude& lies) {
  return *std::max_element(shown.begin(), shown.end(), [&](PartId a, PartId b) {
    return lying_bounds(frame.part(a), lies).hi.z < lying_bounds(frame.part(b), lies).hi.z - 1e-6;
  });
}

}  // namespace

void add_help(const Frame& frame, const planner::Step& step, const HowItStands& how, PictureOptions& out) {
  const std::set<PartId> tied(how.tied.begin(), how.tied.end());
  for (const PartId id : tied) out.help.push_back({Figure::clamp, {id}});
  for (const PartId id : how.steadied) out.help.push_back({Figure::person, {id}});
  if (how.people > 1 && how.steadied.empty()) {
    PartId heaviest = model::kNone;
    for (const PartId id : step.moving) {
      if (id >= 0 && (heaviest == model::kNone || frame.part(id).mass > frame.part(heaviest).mass)) heaviest = id;
    }
    if (heaviest != model::kNone) out.help.push_back({Figure::person, {heaviest}});
  }
  if (!how.propped || out.shown.empty()) return;
  // Until the screws are in somebody holds it; a prop is for what is left standing.
  const bool screwed = step.action == planner::Action::fasten;
  if (const auto prop = screwed ? std::nullopt : prop_under(frame, out.shown, how.lies)) {
    out.props.push_back(*prop);
    out.help.push_back({Figure::prop, {prop->under}});
  } else if (how.steadied.empty() && how.people < 2) {
    out.help.push_back({Figure::person, {highest_of(frame, out.shown, how.lies)}});
  }
}

}  // namespace dryfit::cli
