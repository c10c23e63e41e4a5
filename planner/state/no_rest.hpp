#pragma once
/// Boards that nothing carries, although the file names a carrier: a hole that its carrier passes carries nothing.
#include <optional>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::planner {

/// True when all of the carrier's bodies (of a union: of both halves) stand on the line of one of the board's holes and
/// are narrower than it, so that the board drops over it. O(holes).
[[nodiscard]] bool passes_its_hole(const model::Frame& frame, const model::Board& board, model::PartId carrier);

/// How much wider than such a carrier its hole is, mm; nothing where the carrier does not pass. Of less than half a
/// millimetre it is a matter of luck whether the board drops over it or sticks. O(holes).
[[nodiscard]] std::optional<double> play_over_carrier(const model::Frame& frame, const model::Board& board,
                                                      model::PartId carrier);

/// Boards that some named carrier passes, that fewer than two others carry and that nothing is fastened to, ascending.
[[nodiscard]] std::vector<model::PartId> without_rest(const model::Frame& frame);

}  // namespace dryfit::planner
