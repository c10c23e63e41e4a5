#pragma once
/// What is said about an order besides its steps, in words.
#include <string>
#include <vector>

#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

/// "upside down", "on its back".
[[nodiscard]] std::string pose_words(const model::Attitude& lies);
/// How the work is turned, in one sentence or two.
[[nodiscard]] std::string turning_text(const model::Frame& frame, const OrderPlan& plan,
                                       const planner::Turning& turning);
/// How the frame gets in between surfaces that face each other.
[[nodiscard]] std::string way_in_text(const model::Frame& frame, const OrderPlan& plan, const planner::WayIn& way);
/// Why a step stands where it stands; needs a plan with explain.
[[nodiscard]] std::vector<std::string> why_sentences(const model::Frame& frame, const planner::ContactList& list,
                                                     const OrderPlan& plan, std::size_t step);
/// Numbered chores under a heading; "" when there are none.
[[nodiscard]] std::string chores_text(const std::string& heading, const std::vector<planner::ChoreLine>& chores,
                                      model::Units units);
/// Whole lines that stand before a step: the work being turned, the way in, levelling, a piece that begins.
[[nodiscard]] std::string before_step_text(const model::Frame& frame, const planner::ContactList& list,
                                           const OrderPlan& plan, std::size_t step);
/// What stands under a step, one entry a sentence: cautions of standing, then reasons. `turned`: the frame as it stands
/// once its joints are turned as told, for what is measured on the wall.
[[nodiscard]] std::vector<std::string> under_step(const model::Frame& frame, const model::Frame& turned,
                                                  const planner::ContactList& list, const OrderPlan& plan,
                                                  std::size_t step);
/// The work being turned once more after the last step, one entry a sentence.
[[nodiscard]] std::vector<std::string> turnings_at_end(const model::Frame& frame, const OrderPlan& plan);
/// What the order costs and how sure that is, not yet broken into lines.
[[nodiscard]] std::string effort_text(const OrderPlan& plan);
/// What ended the search before it was sure that no order is easier; "" when it is.
[[nodiscard]] std::string unproven_text(const OrderPlan& plan);
/// The same as whole lines.
[[nodiscard]] std::string after_steps_text(const model::Frame& frame, const OrderPlan& plan);

}  // namespace dryfit::cli
