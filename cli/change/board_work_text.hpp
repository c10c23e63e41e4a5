#pragma once
/// What has to be done to a board that serves on in a new design.
#include <string>

#include "cli/json/json_answer.hpp"
#include "cli/words/lengths.hpp"
#include "planner/change/board_work.hpp"

namespace dryfit::cli {

/// "S1: drill for P7, 1-3/8 in, 34 in from the left and 4-5/8 in from the front edge; the hole of P3 serves; the old
/// hole of P7 stays open and shows."
[[nodiscard]] std::string board_work_text(const model::Frame& old_frame, const model::Frame& new_frame,
                                          const planner::BoardWork& work, const Lengths& lengths);
/// {"board", "as", "laid", "drill": [...], "serve": [...], "left_open": [...]}; lengths in mm.
[[nodiscard]] Json board_work_json(const model::Frame& old_frame, const model::Frame& new_frame,
                                   const planner::BoardWork& work);

}  // namespace dryfit::cli
