#pragma once
/// Cures as calls of `dryfit edit`: the options that make them, for a page's buttons and for scripts.
#include "cli/json/json_answer.hpp"
#include "planner/cure/closure_cure.hpp"
#include "planner/cure/cure.hpp"
#include "planner/fit/fit_answer.hpp"

namespace dryfit::cli {

/// ["--insert", "P3@4=union"], ["--cure", "notch S1 back P3 P8"]; one option after the other where several changes are
/// needed.
[[nodiscard]] Json call_for(const model::Frame& frame, const planner::DesignCure& cure);
/// ["--set", "P3.length=12"], ["--insert", "P4@24+12=coupling"].
[[nodiscard]] Json call_for(const model::Frame& frame, const planner::Cure& cure);
/// ["--set", "S1.reach.left=2"], ["--cure", "let-go rail"].
[[nodiscard]] Json call_for(const model::Frame& frame, const planner::ClosureCure& cure);

}  // namespace dryfit::cli
