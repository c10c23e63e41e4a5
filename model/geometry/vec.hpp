#pragma once
/// Vectors in room coordinates. Right-handed: +x right, +y back, +z up. Lengths in millimetres.
#include <array>
#include <cmath>

namespace dryfit::model {

struct Vec3 {
  double x = 0.0;
  double y = 0.0;
  double z = 0.0;
  friend constexpr bool operator==(const Vec3&, const Vec3&) = default;
  friend constexpr Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
  friend constexpr Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
  friend constexpr Vec3 operator-(Vec3 a) { return {-a.x, -a.y, -a.z}; }
  friend constexpr Vec3 operator*(Vec3 a, double k) { return {a.x * k, a.y * k, a.z * k}; }
  friend constexpr Vec3 operator*(double k, Vec3 a) { return a * k; }
  constexpr Vec3& operator+=(Vec3 b) { return *this = *this + b; }
  constexpr Vec3& operator-=(Vec3 b) { return *this = *this - b; }
  /// Component by axis number: 0 x, 1 y, 2 z.
  [[nodiscard]] constexpr double operator[](int axis) const { return axis == 0 ? x : axis == 1 ? y : z; }
  [[nodiscard]] constexpr double& operator[](int axis) { return axis == 0 ? x : axis == 1 ? y : z; }
};

[[nodiscard]] constexpr double dot(Vec3 a, Vec3 b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
[[nodiscard]] constexpr Vec3 cross(Vec3 a, Vec3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
[[nodiscard]] inline double norm(Vec3 a) { return std::sqrt(dot(a, a)); }

}  // namespace dryfit::model
