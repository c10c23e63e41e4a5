#pragma once
/// Hidden surfaces: a tree of planes that keeps pieces apart, so that for every viewer they can be painted from the
/// back to the front: binary space partitioning (Fuchs, Kedem and Naylor, SIGGRAPH 1980).
/// Notation: a node's plane has its front on the side of its normal. Whatever lies on the viewer's side of a plane
/// can hide what lies on the other side, never the reverse; so painting the far side first is right at every node.
/// Why planes between whole pieces and not the faces of all facets: a cylinder stays one filled outline on paper.
#include <functional>
#include <vector>

#include "cli/draw/body/piece.hpp"

namespace dryfit::cli {

class DepthTree {
 public:
  /// Cuts pieces where no plane keeps them apart as they are. Prefers planes along the nine directions square to
  /// axes and 45-degree lines, then faces of pieces. What lies wholly inside another piece is dropped.
  /// O(n log^2 n) for n pieces when the planes halve well.
  explicit DepthTree(std::vector<Piece> pieces);

  /// Calls `paint` for every piece, farthest first, for a viewer in the direction `toward`.
  void back_to_front(Vec3 toward, const std::function<void(const Piece&)>& paint) const;

  [[nodiscard]] const std::vector<Piece>& pieces() const { return pieces_; }

 private:
  struct Node {
    Plane plane;
    int front = -1;  ///< index into nodes_, or -1 when there is nothing
    int back = -1;
    int piece = -1;  ///< a leaf: index into pieces_
  };
  int build(std::vector<Piece> pieces);
  int add_leaf(Piece piece);
  std::vector<Piece> pieces_;
  std::vector<Node> nodes_;
  int root_ = -1;
  int next_id_ = 6;  ///< names for cut faces; 0 to 5 are the faces of boards
};

}  // namespace dryfit::cli
