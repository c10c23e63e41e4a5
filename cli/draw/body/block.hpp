#pragma once
/// Convex bodies bounded by flat faces, made to be cut by planes. Everything that is drawn is made of them.
#include <cstdint>
#include <optional>
#include <vector>

#include "model/geometry/vec.hpp"

namespace dryfit::cli {

using model::Vec3;

/// Points with dot(normal, p) > offset lie in front. `normal` has length 1.
struct Plane {
  Vec3 normal;
  double offset = 0.0;
  [[nodiscard]] double side(Vec3 p) const { return dot(normal, p) - offset; }
};

/// Bodies that cross a plane by less are taken to touch it, mm. Below anything that shows on paper.
inline constexpr double kSliver = 0.02;

enum class FaceKind : std::uint8_t {
  flat,    ///< a true face: filled, its edges are lines
  curved,  ///< a facet of a round body: filled, edges between facets are lines only at the silhouette
  seam,    ///< left by cutting for the painter's sake; the other half lies against it: nothing is drawn
  crease   ///< another body lies against it: not filled, but its edge is a line
};

/// `loop` runs counterclockwise seen from outside; indices into Block::points.
struct Face {
  std::vector<int> loop;
  Vec3 normal;
  FaceKind kind = FaceKind::flat;
  int id = -1;  ///< faces of a board and openings of its holes that lie on one plane share an id >= 0
};

struct Block {
  std::vector<Vec3> points;
  std::vector<Face> faces;
  [[nodiscard]] bool empty() const { return faces.size() < 4; }
  /// Range of dot(direction, p) over the block.
  struct Range {
    double lo = 0.0;
    double hi = 0.0;
  };
  [[nodiscard]] Range range_along(Vec3 direction) const;
};

/// Two unit vectors square to `axis` (length 1) and to each other; first x second = axis.
struct Basis {
  Vec3 first;
  Vec3 second;
};
[[nodiscard]] Basis basis_around(Vec3 axis);

/// A flat polygon, counterclockwise seen from the tip of `sweep`, moved along `sweep`. Side faces get `sides`, the
/// two ends `start` (id 0) and `end` (id 1).
[[nodiscard]] Block extruded(const std::vector<Vec3>& outline, Vec3 sweep, FaceKind sides, FaceKind start,
                             FaceKind end);

/// A cylinder as a prism of `facets` sides inscribed so that its mean radius is right.
[[nodiscard]] Block round_block(Vec3 from, Vec3 to, double radius, int facets, FaceKind start, FaceKind end);

/// A box along the axes; face ids 2*axis (low side) and 2*axis + 1 (high side).
[[nodiscard]] Block box_block(Vec3 lo, Vec3 hi);

/// The two parts of a block. `front` or `back` is empty when the block lies on one side within kSliver; the
/// untouched block is then the other one. The new faces get `kind` and `id`.
struct Halves {
  Block front;
  Block back;
};
[[nodiscard]] Halves cut(const Block& block, const Plane& plane, FaceKind kind, int id = -1);

}  // namespace dryfit::cli
