#pragma once
/// What a person holds while building, before it is laid out on paper or on a page: one card a step, what comes before
/// the first step and what comes after the last.
#include <vector>

#include "cli/cards/card.hpp"
#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/order/order_plan.hpp"
#include "cli/words/lengths.hpp"
#include "planner/shop/drill.hpp"

namespace dryfit::cli {

/// Of a buildable frame; `sheets`: how its boards are drilled. Pictures are drawn by whoever lays the deck out. Without
/// what taking parts out again costs. O(steps * parts).
[[nodiscard]] Deck deck_of(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan,
                           const Lengths& lengths, const std::vector<planner::DrillSheet>& sheets,
                           Working* working = nullptr);

/// Adds what taking each pipe and board out again costs: searches for each step, most of the work of a deck.
void add_swaps(const LoadedFrame& loaded, const std::vector<planner::Step>& steps, Working* working, Deck& deck);

}  // namespace dryfit::cli
