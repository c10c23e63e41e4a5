#pragma once
/// What to buy so that an open closure closes.
#include <vector>

#include "planner/fit/fit_answer.hpp"
#include "planner/fit/fit_equations.hpp"

namespace dryfit::planner {

/// Fills `cures` of every open closure: stock lengths, or stock with couplings, for one pipe or several, that bring
/// the closure within turning and open nothing else. Every one has been placed again and judged by the whole
/// program. Fewest pieces first, then what closes most, fewest couplings, least turning, the pipes' places in the file.
/// Where no stock does it, one pipe cut and threaded to length is looked for.
/// Work is bounded by counts: bags looked at, and cures placed again per closure and number of pieces.
void find_cures(const model::Frame& frame, const std::vector<Equation>& equations, const FitOptions& options, Fit& fit);

}  // namespace dryfit::planner
