#pragma once
/// What a change of mind costs by step, for the last page of the cards.
#include <vector>

#include "cli/draw/sheet/swap_table.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/working.hpp"
#include "planner/order/order.hpp"

namespace dryfit::cli {

/// Pipes and boards, in file order: what taking each out again costs after each step. Of more than 40, those
/// that come to cost most. Empty on frames of more than 300 contacts. Bounds where it was interrupted.
[[nodiscard]] std::vector<SwapRow> swap_rows(const LoadedFrame& loaded, const std::vector<planner::Step>& steps,
                                             Working* working = nullptr);

}  // namespace dryfit::cli
