#pragma once
/// Holes of boards in words and in JSON, for every command that tells them.
#include <string>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "cli/words/lengths.hpp"
#include "planner/shop/drill.hpp"

namespace dryfit::cli {

/// `holes` of a fit: board, pipe, hole_mm, pipe_mm, clearance_mm, carrier_mm, bearing_mm.
[[nodiscard]] Json holes_json(const model::Frame& frame, const std::vector<planner::DrillSheet>& sheets);
/// `boards` of a drilling list: every hole from its edges, every two holes against their posts, warnings.
[[nodiscard]] Json sheet_json(const model::Frame& frame, const planner::DrillSheet& sheet);

/// All boards in a few lines: holes that are alike are told together.
[[nodiscard]] std::string holes_text(const model::Frame& frame, const std::vector<planner::DrillSheet>& sheets,
                                     const Lengths& lengths);
/// The boards that bind, and those whose posts are measured first; "" when all go on freely.
[[nodiscard]] std::string drops_text(const model::Frame& frame, const std::vector<planner::DrillSheet>& sheets);
/// One board in full, as `drill` prints it. Ends with a newline.
[[nodiscard]] std::string sheet_text(const model::Frame& frame, const planner::DrillSheet& sheet,
                                     const Lengths& lengths);

}  // namespace dryfit::cli
