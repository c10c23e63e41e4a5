#include "planner/fit/fit.hpp"

#include <utility>

#include "planner/fit/fit_cures.hpp"
#include "planner/fit/fit_judge.hpp"
#include "planner/fit/fit_suspect.hpp"

namespace dryfit::planner {

Fit find_fit(const model::Frame& frame, const FitOptions& options) {
  FitFindings found = judge_fit(frame, options);
  if (options.cures && found.fit.state == FitState::open) {
    found.fit.suspects = suspects_of(found.frame, found.equations, options, found.fit);
    find_cures(found.frame, found.equations, options, found.fit);
  }
  return std::move(found.fit);
}

}  // namespace dryfit::planner
