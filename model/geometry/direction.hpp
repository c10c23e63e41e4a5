#pragma once
/// The 18 directions that threaded work takes: six along the axes, twelve at 45 degrees between two of them.
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "model/geometry/vec.hpp"

namespace dryfit::model {

/// A direction as small integers, so that square, opposite and 45 degrees are exact.
/// Invariant of a valid direction: one or two components are +-1, the rest 0. Default: none (all zero).
struct Direction {
  int x = 0;
  int y = 0;
  int z = 0;
  friend constexpr auto operator<=>(const Direction&, const Direction&) = default;
  friend constexpr Direction operator-(Direction d) { return {-d.x, -d.y, -d.z}; }
  [[nodiscard]] constexpr bool valid() const {
    const int n = x * x + y * y + z * z;
    return n == 1 || n == 2;
  }
  /// True for the six directions along an axis.
  [[nodiscard]] constexpr bool along_axis() const { return x * x + y * y + z * z == 1; }
  /// Number of the axis (0 x, 1 y, 2 z) it lies along; -1 when it lies at 45 degrees.
  [[nodiscard]] constexpr int axis() const { return !along_axis() ? -1 : x != 0 ? 0 : y != 0 ? 1 : 2; }
  /// Length 1.
  [[nodiscard]] Vec3 unit() const;
  /// "right", "up-left", ... one spelling each: vertical first, then left or right, then front or back.
  [[nodiscard]] std::string name() const;
};

/// Integer dot product: 0 when square to each other.
[[nodiscard]] constexpr int dot(Direction a, Direction b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
[[nodiscard]] constexpr bool square(Direction a, Direction b) { return dot(a, b) == 0; }
[[nodiscard]] constexpr bool parallel(Direction a, Direction b) { return a == b || a == -b; }
/// True when b turns off a by 45 degrees exactly (one lies along an axis, the other between it and another).
[[nodiscard]] constexpr bool at_45(Direction a, Direction b) {
  return a.along_axis() != b.along_axis() && dot(a, b) == 1;
}
/// Square to both, right-handed; only for a pair that is square. Result is a valid direction.
[[nodiscard]] Direction square_to(Direction a, Direction b);

[[nodiscard]] std::optional<Direction> direction_named(std::string_view name);
/// All 18, axes first, in a fixed order.
[[nodiscard]] std::span<const Direction> all_directions();

inline constexpr Direction kUp{0, 0, 1};
inline constexpr Direction kDown{0, 0, -1};
inline constexpr Direction kRight{1, 0, 0};
inline constexpr Direction kLeft{-1, 0, 0};
inline constexpr Direction kBack{0, 1, 0};
inline constexpr Direction kFront{0, -1, 0};

}  // namespace dryfit::model
