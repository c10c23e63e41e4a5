#include "model/geometry/direction.hpp"

#include <array>
#include <cassert>
#include <numbers>

namespace dryfit::model {
namespace {

constexpr std::array<Direction, 18> kAll{{
    kRight,
    kLeft,
    kBack,
    kFront,
    kUp,
    kDown,  // along an axis
    {1, 0, 1},
    {-1, 0, 1},
    {0, 1, 1},
    {0, -1, 1},  // upward
    {1, 0, -1},
    {-1, 0, -1},
    {0, 1, -1},
    {0, -1, -1},  // downward
    {1, 1, 0},
    {1, -1, 0},
    {-1, 1, 0},
    {-1, -1, 0},  // level
}};

constexpr int sign(int n) { return (n > 0) - (n < 0); }

}  // namespace

Vec3 Direction::unit() const {
  const double k = along_axis() ? 1.0 : 1.0 / std::numbers::sqrt2;
  return {x * k, y * k, z * k};
}

std::string Direction::name() const {
  std::string out;
  const auto add = [&out](int component, const char* positive, const char* negative) {
    if (component == 0) return;
    if (!out.empty()) out += '-';
    out += component > 0 ? positive : negative;
  };
  add(z, "up", "down");
  add(x, "right", "left");
  add(y, "back", "front");
  return out;
}

Direction square_to(Direction a, Direction b) {
  assert(a.valid() && b.valid() && square(a, b));
  // Two square 45-degree directions share a plane, so their cross product is twice an axis: keep the signs only.
  return {sign(a.y * b.z - a.z * b.y), sign(a.z * b.x - a.x * b.z), sign(a.x * b.y - a.y * b.x)};
}

std::optional<Direction> direction_named(std::string_view name) {
  for (const Direction d : kAll) {
    if (d.name() == name) return d;
  }
  return std::nullopt;
}

std::span<const Direction> all_directions() { return kAll; }

}  // namespace dryfit::model
