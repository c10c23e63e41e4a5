#pragma once
/// Where the viewer stands. Axonometric: all lines of sight are parallel.
/// Notation: `right` and `up` span the picture, `toward` points at the viewer; the three are square, right-handed and
/// of length 1. `u`, `v` are picture coordinates (v upward), `depth` grows toward the viewer; all in room millimetres.
#include <string>

#include "model/geometry/attitude.hpp"
#include "model/geometry/vec.hpp"

namespace dryfit::cli {

/// Degrees, in the room. Azimuth 0: from the front; 90: from the right; 180: from the back. Elevation 90: from above.
struct View {
  double azimuth_deg = 28.0;
  double elevation_deg = 24.0;
  model::Attitude lies{};  ///< of what is looked at
  friend bool operator==(const View&, const View&) = default;
};

/// "from the front right and above", of the room: for captions. Within 15 degrees of a side only that side is named.
[[nodiscard]] std::string describe(const View& view);

struct Projection {
  model::Vec3 right;
  model::Vec3 up;
  model::Vec3 toward;
  /// Of the frame's own points, whichever way it lies.
  explicit Projection(const View& view);
  [[nodiscard]] double u(model::Vec3 p) const { return dot(p, right); }
  [[nodiscard]] double v(model::Vec3 p) const { return dot(p, up); }
  [[nodiscard]] double depth(model::Vec3 p) const { return dot(p, toward); }
};

}  // namespace dryfit::cli
