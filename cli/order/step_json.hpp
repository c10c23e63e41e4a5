#pragma once
/// A step of an answer as JSON.
#include "cli/json/json_answer.hpp"
#include "cli/sentences/step_text.hpp"
#include "planner/state/step.hpp"

namespace dryfit::cli {

/// One entry of `steps`.
[[nodiscard]] Json step_json(const model::Frame& frame, const planner::ContactList& list, const planner::Step& step,
                             const StepWords& words);

}  // namespace dryfit::cli
