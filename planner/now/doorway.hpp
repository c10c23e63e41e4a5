#pragma once
/// An opening that pieces are carried through, and whether they go through it. Lengths in mm.
///
/// A piece passes when a box round it passes: its edges, shortest first, are no longer than the sides of the opening,
/// shortest first. Of a door the third side, along the way through, has no end unless it is given (a lift, a van, a
/// landing). The box is turned about each of the frame's three axes by every three degrees, and any of these boxes that
/// passes will do. So the answer errs on the safe side: between two of these turns an edge may be shorter by up to 2.7 %
/// (the sine of 1.5 degrees) of another edge, boxes that lean two ways at once are not tried, and a piece that goes
/// through only by being wound round the jamb counts as one that does not.
#include <array>
#include <limits>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::planner {

using model::PartId;

/// Sides of an opening in any order.
struct Opening {
  std::array<double, 3> sides{};
  /// A door of that width and height.
  static Opening door(double width, double height) {
    return {{width, height, std::numeric_limits<double>::infinity()}};
  }
};

/// The box that a piece is judged by: of those that pass the smallest by volume, else the smallest of all.
struct PieceBox {
  std::array<double, 3> edges{};  ///< shortest first
  double lacks = 0.0;             ///< by how much the opening is too small for this box, at its worst side; 0: it passes
  [[nodiscard]] bool passes() const { return lacks <= 0.0; }
};

/// One opening and one frame. Keeps nothing of the frame.
class Doorway {
 public:
  /// O(bodies).
  Doorway(const model::Frame& frame, const Opening& opening);

  /// Of parts, one or more, as the finished frame has them to each other. What passes still passes when a part is left
  /// out. O(parts).
  [[nodiscard]] PieceBox box_of(const std::vector<PartId>& parts) const;
  [[nodiscard]] bool passes(const std::vector<PartId>& parts) const { return box_of(parts).passes(); }

 private:
  static constexpr int kTurns = 30;  ///< of 90 degrees
  static constexpr int kDirections = 3 + 3 * 2 * kTurns;
  struct Span {
    double from = 0.0, to = 0.0;
  };
  using Spans = std::array<Span, kDirections>;

  std::array<double, 3> sides_;  ///< ascending
  std::vector<Spans> spans_;     ///< per part: how far it reaches along each direction
};

}  // namespace dryfit::planner
