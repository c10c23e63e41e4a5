#pragma once
/// What the painters share: the page and the map, outlines of faces, lines from edges.
#include <array>
#include <map>
#include <utility>
#include <vector>

#include "cli/draw/body/edge_loops.hpp"
#include "cli/draw/body/piece.hpp"
#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/page_map.hpp"

namespace dryfit::cli {

/// Faces of one block as one outline.
class Outline {
 public:
  void add(const Face& face);
  [[nodiscard]] bool empty() const { return edges_.empty(); }
  [[nodiscard]] const DirectedEdges& edges() const { return edges_; }

 private:
  DirectedEdges edges_;
};

/// One drawing job. `trace` adds to the canvas's path.
class Brush {
 public:
  Brush(OutlineCanvas& canvas, const PageMap& map);

  [[nodiscard]] OutlineCanvas& canvas() const { return canvas_; }
  [[nodiscard]] const PageMap& map() const { return map_; }
  [[nodiscard]] bool faces_viewer(Vec3 normal) const { return dot(normal, map_.projection.toward) > 1e-6; }
  [[nodiscard]] double light_on(Vec3 normal) const { return dot(normal, light_); }

  void trace(const std::vector<Vec3>& points, bool closed) const;
  void trace(const Block& block, const Outline& outline) const;
  /// The face less the openings of the piece's hollows.
  void trace_face(const Piece& piece, const Face& face) const;

 private:
  void trace(const Block& block, const std::vector<int>& loop) const;
  OutlineCanvas& canvas_;
  const PageMap& map_;
  Vec3 light_;
};

[[nodiscard]] inline bool is_surface(const Face& face) {
  return face.kind == FaceKind::flat || face.kind == FaceKind::curved;
}
[[nodiscard]] inline bool is_opening(const Face& face) { return face.id >= 0; }

/// A patch of a surface, looked at from the side that is not the room.
[[nodiscard]] inline bool is_seen_through(const Brush& brush, const Piece& piece) {
  return norm(piece.seen_from) > 0.5 && !brush.faces_viewer(piece.seen_from);
}

/// The openings of a hollow that face the viewer, as one outline.
[[nodiscard]] Outline mouth_of(const Brush& brush, const Hollow& hollow);

/// What passes through a hollow, farthest first. It lies on one axis, so its far ends are in the right order.
[[nodiscard]] std::vector<const Piece*> contents_by_depth(const Hollow& hollow, Vec3 toward);

/// Pairs of faces that meet in an edge, keyed by the edge's points (lower first); the second is null at a loose edge.
using EdgeMap = std::map<std::pair<int, int>, std::array<const Face*, 2>>;
[[nodiscard]] EdgeMap edges_of(const Block& block);

/// Lines from edges: edges that meet end to end become one path, so that corners are joined.
class Lines {
 public:
  void add(int a, int b);
  /// Uses the edges up.
  void trace(const Brush& brush, const Block& block);

 private:
  std::map<int, std::vector<int>> next_;
};

/// True when the edge between two faces is a line of the drawing.
[[nodiscard]] bool is_line(const Brush& brush, const Face& a, const Face& b);

}  // namespace dryfit::cli
