#pragma once
/// Holes and slots that would let more pass if they were wider: which bits would do, and whether the board would still
/// lie on what carries it.
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::planner {

/// Diameters of bits as sold, mm, ascending: for each thing on the hole's line that does not pass it now, the smallest
/// that lets it pass, in the frame's series; three at most. O(parts).
[[nodiscard]] std::vector<double> wider_bits(const model::Frame& frame, const model::Hole& hole);

/// No carrier would drop into the board's hole for `pipe`, or stick there, if that had this diameter and does not now.
/// O(holes * carriers).
[[nodiscard]] bool still_lies(const model::Frame& frame, const model::Board& board, model::PartId pipe,
                              double diameter);

}  // namespace dryfit::planner
