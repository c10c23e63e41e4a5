#include "planner/fit/fit.hpp"

#include <memory>
#include <utility>

#include "planner/fit/fit_cures.hpp"
#include "planner/fit/fit_judge.hpp"
#include "planner/fit/fit_suspect.hpp"
#include "planner/fit/turn_memory.hpp"

namespace dryfit::planner {

Fit find_fit(const model::Frame& frame, const FitOptions& asked) {
  FitOptions options = asked;
  if (!options.memory) options.memory = std::make_shared<TurnMemory>();
  FitFindings found = judge_fit(frame, options);
  if (options.cures && found.fit.state == FitState::open && may_go_on(options.foreman, 0, options.node_limit)) {
    found.fit.suspects = suspects_of(found.frame, found.equations, options, found.fit);
    find_cures(found.frame, found.equations, options, found.fit);
  }
  return std::move(found.fit);
}

}  // namespace dryfit::planner
