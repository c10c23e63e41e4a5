#include "model/placing/placer.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::model {

bool Placer::placed(PartId id) const {
  const Part& p = part(id);
  return p.kind == PartKind::board ? board_placed[at(p.board)] : run_placed[at(p.run)];
}

Vec3 Placer::shift(PartId id) const {
  const Part& p = part(id);
  return p.kind == PartKind::board ? Vec3{} : offset[at(p.run)];
}

double Placer::outermost(PartId id, Direction toward) const {
  const int axis = toward.axis();
  const bool up = dot(toward.unit(), {1, 1, 1}) > 0;
  const Part& p = part(id);
  double best = up ? -1e300 : 1e300;
  const auto look = [&](PartId which) {
    for (const Solid& solid : part(which).solids) {
      const Bounds bounds = bounds_of(solid);
      best = up ? std::max(best, bounds.hi[axis]) : std::min(best, bounds.lo[axis]);
    }
  };
  look(id);
  if (p.union_mate != kNone) look(p.union_mate);
  return best + shift(id)[axis];
}

void Placer::close_on_surface(Closure::Kind kind, PartId id, int surface, double gap, const SourcePos& where) {
  const Surface& on = frame.surfaces[at(surface)];
  const int axis = on.normal.axis();
  Closure closure;
  closure.kind = kind;
  closure.between = {part(id).label, on.id};
  closure.part = id;
  closure.surface = surface;
  closure.binds = {axis == 0, axis == 1, axis == 2};
  closure.gap[axis] = gap;
  closure.where = where;
  frame.closures.push_back(std::move(closure));
}

}  // namespace dryfit::model
