#pragma once
/// What to buy so that an open closure closes.
#include <vector>

#include "planner/fit.hpp"
#include "planner/fit_equations.hpp"

namespace dryfit::planner {

/// The frame with `pipe` made of these pieces instead, end to end in walking order with a coupling between each two,
/// placed again. New parts are called "P4~2", "P4~C1", ... The pipe's far end goes with the last piece.
[[nodiscard]] model::Frame with_pieces(const model::Frame& frame, model::PartId pipe,
                                       const std::vector<double>& pieces);

/// Fills `cures` of every open closure: for each pipe of its open axes the stock lengths, and stock with
/// couplings, that bring it within turning and open nothing else. Every one has been placed again and judged by
/// the whole program. Fewest pieces first, then the least left open, then the pipe's place in the file.
void find_cures(const model::Frame& frame, const std::vector<Equation>& equations, const FitOptions& options, Fit& fit);

}  // namespace dryfit::planner
