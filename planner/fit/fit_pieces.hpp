#pragma once
/// A frame with a pipe made of other pieces.
#include <vector>

#include "planner/fit/fit_answer.hpp"

namespace dryfit::planner {

/// The frame with `pipe` made of these pieces instead, end to end in walking order with a coupling between each two,
/// placed again. New parts are called "P4~2", "P4~C1", ... The pipe's far end goes with the last piece. Joints keep
/// their numbers, new ones follow.
[[nodiscard]] model::Frame with_pieces(const model::Frame& frame, model::PartId pipe,
                                       const std::vector<double>& pieces);

/// The same for several pipes.
[[nodiscard]] model::Frame with_changes(const model::Frame& frame, const std::vector<PipeChange>& changes);

}  // namespace dryfit::planner
