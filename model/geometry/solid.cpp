#include "model/geometry/solid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dryfit::model {

Solid cylinder(Vec3 from, Direction along, double length, double radius) {
  return {Solid::Shape::cylinder, from, from + along.unit() * length, radius, along};
}

Solid box(Vec3 lo, Vec3 hi) { return {Solid::Shape::box, lo, hi, 0.0, {}}; }

Bounds bounds_of(const Solid& solid) {
  if (solid.shape == Solid::Shape::box) return {solid.a, solid.b};
  // A disc square to the unit vector u reaches radius * sqrt(1 - u_i^2) along axis i. With integer directions u_i^2
  // is 0, 1/2 or 1, so nothing is lost.
  const Direction d = solid.along;
  const double n = d.x * d.x + d.y * d.y + d.z * d.z;
  const auto half = [&](int component) { return solid.radius * std::sqrt(1.0 - component * component / n); };
  const Vec3 reach{half(d.x), half(d.y), half(d.z)};
  Bounds out;
  for (int axis = 0; axis < 3; ++axis) {
    out.lo[axis] = std::min(solid.a[axis], solid.b[axis]) - reach[axis];
    out.hi[axis] = std::max(solid.a[axis], solid.b[axis]) + reach[axis];
  }
  return out;
}

Solid shrunk(Solid solid, double by) {
  if (solid.shape == Solid::Shape::cylinder) {
    const double length = norm(solid.b - solid.a);
    const double in = std::min(by, length / 2.0);
    const Vec3 step = solid.along.unit() * in;
    solid.a += step;
    solid.b -= step;
    solid.radius = std::max(0.0, solid.radius - by);
    return solid;
  }
  for (int axis = 0; axis < 3; ++axis) {
    const double in = std::min(by, (solid.b[axis] - solid.a[axis]) / 2.0);
    solid.a[axis] += in;
    solid.b[axis] -= in;
  }
  return solid;
}

Solid moved(Solid solid, Vec3 by) {
  solid.a += by;
  solid.b += by;
  return solid;
}

double volume(const Solid& solid) {
  const Vec3 d = solid.b - solid.a;
  if (solid.shape == Solid::Shape::box) return d.x * d.y * d.z;
  return std::numbers::pi * solid.radius * solid.radius * norm(d);
}

}  // namespace dryfit::model
