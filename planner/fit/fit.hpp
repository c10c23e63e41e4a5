#pragma once
/// Does it fit? Closures, levels and the turns to give or take, for the whole frame at once.
#include "planner/fit/fit_answer.hpp"
#include "planner/fit/fit_replace.hpp"

namespace dryfit::planner {

/// Judges every closure of the frame. O(closures * depth) when all is exact; otherwise an integer program.
[[nodiscard]] Fit find_fit(const model::Frame& frame, const FitOptions& options = {});

}  // namespace dryfit::planner
