#pragma once
/// Levels: boards on what carries them, legs on what they stand on.
#include "planner/fit/fit_answer.hpp"
#include "planner/fit/fit_equations.hpp"

namespace dryfit::planner {

/// Spread of a sum of threads that are each off by up to one turn.
[[nodiscard]] Spread spread_of(const std::vector<TurnTerm>& terms);

/// Boards that two or more things carry (or that stand on flanges), then legs on surfaces that face up, each with
/// its slope as made up and in `after`, the frame placed again. `closures` are judged already.
[[nodiscard]] std::vector<LevelFit> levels_of(const model::Frame& frame, const model::Frame& after,
                                              const std::vector<ClosureFit>& closures,
                                              const std::vector<Equation>& equations);

/// Index of the leg whose own threads stray most; kNone when all legs are alike or there are none.
[[nodiscard]] int spare_leg_of(const std::vector<LevelFit>& levels);

}  // namespace dryfit::planner
