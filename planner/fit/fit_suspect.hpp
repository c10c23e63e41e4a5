#pragma once
/// Which pipe is likely wrong in a frame that does not close.
#include <vector>

#include "planner/fit/fit_answer.hpp"
#include "planner/fit/fit_equations.hpp"

namespace dryfit::planner {

/// Pipes of which one of another length would close all that is open in `fit` and open nothing else, each judged by the
/// whole program. Of several the ones of a length that the fewest others of their size and direction have, then those
/// that would get the length of the most others; ties are all told. Empty where no single pipe does it.
[[nodiscard]] std::vector<Suspect> suspects_of(const model::Frame& frame, const std::vector<Equation>& equations,
                                               const FitOptions& options, const Fit& fit);

}  // namespace dryfit::planner
