#pragma once
/// A board that turns about the line of one of its holes, held against bodies that stay. Private to planner/moves.
/// Angles in radians from the board's place in the finished frame, right-handed about the axis of that number.
#include <optional>
#include <vector>

#include "model/geometry/solid.hpp"

namespace dryfit::planner {

class TurningBoard {
 public:
  /// `bodies` are the board's, smaller by what counts as touching.
  TurningBoard(std::vector<model::Solid> bodies, model::Vec3 pivot, int axis);

  /// What stays in the way, from the angle on at which it counts: what stands in an open slot is judged by its width
  /// alone until it is out.
  struct Still {
    model::Solid solid;
    int number = 0;            ///< of the caller's
    double counts_from = 0.0;  ///< angle without sign, in the sense in which the board is turned
  };

  /// The angle, up to `limit`, to which the board can be turned in the sense (+1 or -1) before it meets the body.
  /// Never too far; short by at most 0.05 mm of way at the board's far corner.
  [[nodiscard]] double turns_to(const Still& still, int sense, double limit) const;

  /// Some angle from 0 to `to` (in the sense) at which the board meets none of the bodies, or nothing. Gaps narrower
  /// than 0.05 mm may be missed. `met` gets the numbers of bodies that were met.
  [[nodiscard]] std::optional<double> clear_at(const std::vector<Still>& stills, int sense, double to,
                                               std::vector<int>& met) const;

  /// The first angle up to `limit` from which the board's whole outline is clear of a body that stands in a slot, or
  /// nothing. Late by at most 0.05 mm.
  [[nodiscard]] static std::optional<double> comes_clear(const model::Solid& outline, const model::Solid& still,
                                                         model::Vec3 pivot, int axis, int sense, double limit);

 private:
  [[nodiscard]] double gap(const model::Solid& body, double angle, const model::Solid& still, double enough) const;

  std::vector<model::Solid> bodies_;
  std::vector<double> radius_;  ///< of each body's farthest corner from the axis
  model::Vec3 pivot_;
  int axis_;
};

}  // namespace dryfit::planner
