#pragma once
/// Cures in words and as JSON.
#include <string>
#include <vector>

#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/working.hpp"
#include "cli/json/json_answer.hpp"
#include "planner/cure/cure.hpp"

namespace dryfit::cli {

/// Looks for cures of a locked frame and keeps them in the finding, with a note when that was
/// interrupted; does nothing for other verdicts.
void look_for_cures(Finding& finding, const LoadedFrame& loaded, Working* working = nullptr);

/// Looks for what would close a frame that is open, and which pipe is likely wrong, and keeps both in the finding; does
/// nothing for a frame that closes.
void look_for_closing(Finding& finding, const LoadedFrame& loaded, Working* working = nullptr);

/// "Put a union in P7, next to T1: pieces of 2 in and 43-1/4 in instead of 48 in": what to do, without a full stop.
[[nodiscard]] std::string change_text(const model::Frame& frame, const planner::CureChange& change);
/// All changes of a cure, joined.
[[nodiscard]] std::string cure_text(const model::Frame& frame, const planner::DesignCure& cure);

/// `cures`: {"change", "contacts", "text", ...} each; several changes are joined in `change` by "+".
[[nodiscard]] Json cures_json(const model::Frame& frame, const std::vector<planner::DesignCure>& cures);
/// `trap_cures`: the same with "part", "price_before", "price_after".
[[nodiscard]] Json trap_cures_json(const model::Frame& frame, const std::vector<planner::TrapCure>& cures);

/// Whole lines: cures, the cheapest first. "" for none.
[[nodiscard]] std::string cures_text(const model::Frame& frame, const std::vector<planner::DesignCure>& cures);
/// Whole lines for the worst traps. "" for none.
[[nodiscard]] std::string trap_cures_text(const model::Frame& frame, const std::vector<planner::TrapCure>& cures);

}  // namespace dryfit::cli
