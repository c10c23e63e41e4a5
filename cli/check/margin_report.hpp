#pragma once
/// Verdicts and steps that hold by less than a hair, as JSON and in words.
#include <string>
#include <vector>

#include "cli/check/finding.hpp"
#include "cli/json/json_answer.hpp"
#include "planner/judge/tight_steps.hpp"

namespace dryfit::cli {

/// Asks for the verdict once more, with a hair less or more room; not of frames that do not fit, nor of large ones.
void look_for_margin(Finding& finding, const model::Frame& frame, const planner::ContactList& list);

/// Adds `margin`: null where a hair makes no difference.
void add_margin(Json& document, const Finding& finding, const model::Frame& frame, const planner::ContactList& list);
/// A sentence, or "".
[[nodiscard]] std::string margin_text(const Finding& finding, const model::Frame& frame,
                                      const planner::ContactList& list);

[[nodiscard]] Json tight_steps_json(const std::vector<planner::TightStep>& steps);
/// "Step 7 passes by less than 1/64 in: ..."
[[nodiscard]] std::string tight_step_text(const planner::TightStep& step, model::Units units);

}  // namespace dryfit::cli
