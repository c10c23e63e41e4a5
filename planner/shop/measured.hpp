#pragma once
/// Holes laid out by what was measured from post to post, instead of by the drawing.
#include <optional>
#include <vector>

#include "planner/shop/drill.hpp"

namespace dryfit::planner {

/// Centre to centre of two posts as they stand, mm.
struct Measured {
  model::PartId first = model::kNone;
  model::PartId second = model::kNone;
  double spacing = 0.0;
};

/// Further from the drawing than that is a slip of the tape, or another frame, mm (common practice, no source).
inline constexpr double kMeasuredOff = 25.0;
/// What spacings of one board may be out of true against one another, mm (common practice, no source).
inline constexpr double kMeasuredTogether = 1.0;

/// Why spacings cannot be taken.
struct MeasuredFault {
  enum class Kind {
    no_board,  ///< no board is drilled for both pipes
    far_off,   ///< further than kMeasuredOff from the drawing
    apart      ///< with the others it would come out further than kMeasuredTogether from what was measured
  };
  Kind kind = Kind::no_board;
  Measured measured;
  double other = 0.0;  ///< mm: as drawn, or as it would come out
};

/// Moves the holes of the boards that the posts pass through: of each two both by the same amount along their line, so
/// that what stands over at the ends stays alike; what was not measured stays as near to the drawing as that lets it.
/// The pairs have their new spacing, those that were measured are Drop::free and `measured`; wood to edges and to other
/// holes is told anew. Nothing is changed when there is a fault. Pure but for `sheets`; O(rounds * pairs) a board.
[[nodiscard]] std::optional<MeasuredFault> lay_out_measured(std::vector<DrillSheet>& sheets,
                                                            const std::vector<Measured>& measured);

}  // namespace dryfit::planner
