#pragma once
/// The fit of a frame in words and in JSON, for every command that tells it.
#include <string>
#include <vector>

#include "cli/json_answer.hpp"
#include "cli/lengths.hpp"
#include "planner/fit.hpp"

namespace dryfit::cli {

/// `closures` of a document: between, gap, state, turns, stock that would close it.
[[nodiscard]] Json closures_json(const model::Frame& frame, const planner::Fit& fit);
/// `levels`, the same for boards and legs, with slopes.
[[nodiscard]] Json levels_json(const model::Frame& frame, const planner::Fit& fit);
/// Turns as [{"contact", "turns"}].
[[nodiscard]] Json turns_json(const model::Frame& frame, const std::vector<planner::JointTurn>& turns);

/// "exactly as made up", "by turning: ...".
[[nodiscard]] std::string state_in_words(planner::FitState state);
/// "P4/T1.right 1/2 turn deeper, P9/C2.up 1 turn back".
[[nodiscard]] std::string turns_text(const model::Frame& frame, const std::vector<planner::JointTurn>& turns);
/// One paragraph for a closure that is not exact; lines end with a newline.
[[nodiscard]] std::string closure_text(const model::Frame& frame, const planner::ClosureFit& closure,
                                       const Lengths& lengths);
[[nodiscard]] std::string level_text(const model::Frame& frame, const planner::LevelFit& level, const Lengths& lengths);

}  // namespace dryfit::cli
