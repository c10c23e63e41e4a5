#include "model/measure/mass_properties.hpp"

#include <algorithm>

#include "model/standards/standards.hpp"

namespace dryfit::model {
namespace {

constexpr double kMm2ToM2 = 1e-6;

/// Adds the tensor of a point mass at `d` (mm) to `tensor`.
void add_point(std::array<double, 6>& tensor, double mass, Vec3 d) {
  const double m = mass * kMm2ToM2;
  tensor[0] += m * (d.y * d.y + d.z * d.z);
  tensor[1] += m * (d.z * d.z + d.x * d.x);
  tensor[2] += m * (d.x * d.x + d.y * d.y);
  tensor[3] -= m * d.x * d.y;
  tensor[4] -= m * d.y * d.z;
  tensor[5] -= m * d.z * d.x;
}

}  // namespace

MassProperties& MassProperties::operator+=(const MassProperties& other) {
  const double sum = mass + other.mass;
  if (other.mass <= 0.0) return *this;
  const Vec3 middle = (centre * mass + other.centre * other.mass) * (1.0 / sum);
  for (std::size_t i = 0; i < tensor.size(); ++i) tensor[i] += other.tensor[i];
  if (mass > 0.0) add_point(tensor, mass, centre - middle);
  add_point(tensor, other.mass, other.centre - middle);
  mass = sum;
  centre = middle;
  return *this;
}

MassProperties tube(double mass, Vec3 a, Vec3 b, double outer, double inner) {
  MassProperties body;
  body.mass = mass;
  body.centre = (a + b) * 0.5;
  const Vec3 along = b - a;
  const double length = norm(along);
  const double own = mass * kMm2ToM2 * 0.5 * (outer * outer + inner * inner);
  const double across = own * 0.5 + mass * kMm2ToM2 * length * length / 12.0;
  // I = across * (identity - u u^T) + own * u u^T
  const Vec3 u = length > 0.0 ? along * (1.0 / length) : Vec3{0.0, 0.0, 1.0};
  const double d = own - across;
  body.tensor = {across + d * u.x * u.x, across + d * u.y * u.y, across + d * u.z * u.z,
                 d * u.x * u.y,          d * u.y * u.z,          d * u.z * u.x};
  return body;
}

MassProperties slab(double mass, Vec3 lo, Vec3 hi) {
  MassProperties body;
  body.mass = mass;
  body.centre = (lo + hi) * 0.5;
  const Vec3 s = hi - lo;
  const double m = mass * kMm2ToM2 / 12.0;
  body.tensor = {m * (s.y * s.y + s.z * s.z), m * (s.z * s.z + s.x * s.x), m * (s.x * s.x + s.y * s.y), 0.0, 0.0, 0.0};
  return body;
}

MassProperties mass_properties(const Frame& frame, PartId id) {
  const Part& part = frame.part(id);
  MassProperties whole;
  double all = 0.0;
  for (const Solid& solid : part.solids) all += volume(solid);
  for (const Solid& solid : part.solids) {
    const double mass = all > 0.0 ? part.mass * volume(solid) / all : 0.0;
    if (solid.shape == Solid::Shape::box) {
      whole += slab(mass, solid.a, solid.b);
      continue;
    }
    double inner = 0.0;
    if (part.kind == PartKind::pipe) {
      const auto wall = dimension(frame.standard, part.size, Dimension::pipe_wall);
      if (wall) inner = std::max(0.0, solid.radius - wall->value);
    }
    whole += tube(mass, solid.a, solid.b, solid.radius, inner);
  }
  whole.mass = part.mass;
  // The reader knows where a fitting's metal is; its full bodies only tell how far it spreads.
  whole.centre = part.centre_of_mass;
  return whole;
}

double inertia_about(const MassProperties& body, const Axis& axis) {
  const Vec3 u = axis.along.unit();
  const auto& t = body.tensor;
  const double about_centre = t[0] * u.x * u.x + t[1] * u.y * u.y + t[2] * u.z * u.z +
                              2.0 * (t[3] * u.x * u.y + t[4] * u.y * u.z + t[5] * u.z * u.x);
  const Vec3 off = cross(body.centre - axis.point, u);
  return about_centre + body.mass * kMm2ToM2 * dot(off, off);
}

}  // namespace dryfit::model
