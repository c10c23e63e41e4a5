#pragma once
/// How something flat leans on three supports or more.
#include <array>
#include <cstddef>
#include <vector>

namespace dryfit::planner {

/// A point that carries: its place in the plane and its height, mm.
struct FlatSupport {
  double x = 0.0;
  double y = 0.0;
  double height = 0.0;
};

/// Three supports that something rigid and flat can lie on: no other stands above their plane.
struct Resting {
  std::array<std::size_t, 3> on{};
  /// Per support of `on`: what a millimetre more there adds to the lean, as mm per mm along x and y.
  std::array<std::array<double, 2>, 3> per_mm{};
  double slope = 0.0;  ///< mm per m, along the steepest line of the plane
  double rock = 0.0;   ///< mm that the farthest other support stays below the plane

  /// Whether support `i` is one of the three, and which; 3 when it is not.
  [[nodiscard]] std::size_t corner(std::size_t i) const;
  /// mm per m when each of the three is off by so much at the most, every one the way that tilts most.
  [[nodiscard]] double at_worst(const std::array<double, 3>& off) const;
  /// mm per m when each strays by so much by itself: the root of the sum of squares.
  [[nodiscard]] double likely(const std::array<double, 3>& off) const;
};

/// All ways to lie on three supports. Three on a line, or nearly (less than 25 mm off it), carry nothing by themselves.
/// Empty for fewer than three supports, or more than 32, which no board or frame has. O(n^4).
[[nodiscard]] std::vector<Resting> restings_of(const std::vector<FlatSupport>& supports);

}  // namespace dryfit::planner
