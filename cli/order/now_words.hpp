#pragma once
/// What the answers from a half-built frame have in common: steps as lines, totals, efforts.
#include <iosfwd>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "cli/check/finding.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/json/json_answer.hpp"
#include "planner/change/change.hpp"

namespace dryfit::cli {

/// Steps in which `made` (one flag per contact) can have been made, for the words of what follows. O(an order).
[[nodiscard]] std::vector<planner::Step> a_way_to_make(const model::Frame& frame, const planner::ContactList& list,
                                                       const std::vector<char>& made);
/// The words of `steps`, told on the ground of what `made_before` has made.
[[nodiscard]] std::vector<StepWords> words_from_here(const LoadedFrame& loaded, const Finding& finding,
                                                     const std::vector<planner::Step>& made_before,
                                                     const std::vector<planner::Step>& steps);
/// Lines for the steps numbered from + 1 to `to`, with their cautions. What is made again with other parts is told
/// short.
void print_some(const model::Frame& frame, const std::vector<StepWords>& words, std::size_t from, std::size_t to,
                std::ostream& out);

/// The two bounds are one number.
[[nodiscard]] bool is_exact(const planner::Bounded& bounds);
[[nodiscard]] Json whole(double number);
/// "3 steps, and no way takes fewer", with bounds where that is not proven.
[[nodiscard]] std::string undo_total(const planner::Bounded& moves);
/// What is not known of the effort of the steps, as a paragraph; nothing where no way is easier.
void print_effort(const planner::Bounded& effort, std::ostream& out);
[[nodiscard]] Json effort_json(const planner::Bounded& effort, long long states);
/// `built`: what stands before the first of them, a flag per contact.
[[nodiscard]] Json undo_json(const LoadedFrame& loaded, const std::vector<planner::Move>& undo,
                             const std::vector<char>& built);

}  // namespace dryfit::cli
