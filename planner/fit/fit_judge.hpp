#pragma once
/// Judges a frame as it is designed: every closure and level, and the least turning. Looks for no stock.
#include <vector>

#include "planner/fit/fit_answer.hpp"
#include "planner/fit/fit_equations.hpp"

namespace dryfit::planner {

struct FitFindings {
  Fit fit;                          ///< without cures
  model::Frame frame;               ///< as it stands where the file leaves that open
  std::vector<Equation> equations;  ///< of that frame, closure by closure
};

/// O(closures * depth) when all is exact.
[[nodiscard]] FitFindings judge_fit(const model::Frame& as_read, const FitOptions& options);

}  // namespace dryfit::planner
