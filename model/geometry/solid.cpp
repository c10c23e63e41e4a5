#include "model/geometry/solid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <tuple>

namespace dryfit::model {

Solid cylinder(Vec3 from, Direction along, double length, double radius) {
  return {Solid::Shape::cylinder, from, from + along.unit() * length, radius, along};
}

Solid box(Vec3 lo, Vec3 hi) { return {Solid::Shape::box, lo, hi, 0.0, {}}; }

Solid wedge(Vec3 lo, Vec3 hi, int normal, int cut, const std::array<double, 4>& sides) {
  Solid solid = box(lo, hi);
  solid.shape = Solid::Shape::wedge;
  solid.normal = normal;
  solid.cut = cut;
  solid.sides = sides;
  return solid;
}

std::array<Vec3, 8> corners_of(const Solid& solid) {
  std::array<Vec3, 8> corners;
  const bool askew = solid.shape == Solid::Shape::wedge;
  const int third = 3 - solid.normal - solid.cut;
  for (std::size_t i = 0; i < 8; ++i) {
    Vec3& p = corners[i];
    if (!askew) {
      p = {(i & 1) != 0 ? solid.b.x : solid.a.x, (i & 2) != 0 ? solid.b.y : solid.a.y,
           (i & 4) != 0 ? solid.b.z : solid.a.z};
      continue;
    }
    p[solid.cut] = (i & 1) != 0 ? solid.b[solid.cut] : solid.a[solid.cut];
    p[third] = solid.sides[((i & 1) != 0 ? 2U : 0U) + ((i & 2) != 0 ? 1U : 0U)];
    p[solid.normal] = (i & 4) != 0 ? solid.b[solid.normal] : solid.a[solid.normal];
  }
  return corners;
}

Bounds bounds_of(const Solid& solid) {
  if (solid.shape != Solid::Shape::cylinder) return {solid.a, solid.b};
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
  if (solid.shape == Solid::Shape::wedge) throw std::logic_error("a piece of a board is not made smaller by itself");
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
  if (solid.shape == Solid::Shape::wedge) {
    for (double& side : solid.sides) side += by[3 - solid.normal - solid.cut];
  }
  return solid;
}

bool comes_first(const Solid& a, const Solid& b) {
  const auto key = [](const Solid& s) {
    return std::tuple(s.shape, s.a.x, s.a.y, s.a.z, s.b.x, s.b.y, s.b.z, s.radius);
  };
  return key(a) < key(b);
}

double volume(const Solid& solid) {
  const Vec3 d = solid.b - solid.a;
  if (solid.shape == Solid::Shape::box) return d.x * d.y * d.z;
  if (solid.shape == Solid::Shape::wedge) {
    const auto& s = solid.sides;
    return d[solid.normal] * d[solid.cut] * 0.5 * ((s[1] - s[0]) + (s[3] - s[2]));
  }
  return std::numbers::pi * solid.radius * solid.radius * norm(d);
}

}  // namespace dryfit::model
