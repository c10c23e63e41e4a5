#pragma once
/// What `early` knows, step by step of an order: what each step must come before.
#include <string>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "planner/base/foreman.hpp"
#include "planner/early/trap.hpp"
#include "planner/state/step.hpp"

namespace dryfit::cli {

struct EarlyInOrder {
  bool known = false;   ///< false: the frame is too large for it
  bool priced = false;  ///< false: nobody asked what forgetting costs
  /// Per step: contacts of later steps that no order makes before it, and those whose making closes out a part that the
  /// step puts on. Ascending.
  std::vector<std::vector<planner::ContactId>> must_come_before;
  /// Per step: parts that it puts on (makes the first contact of) that have a last call.
  std::vector<std::vector<planner::EarlyPart>> last_calls;
};

/// Prices are searched for, each for itself: most of the work.
enum class ForgettingPrices { counted, left_out };

/// For a legal order of a buildable frame. Bounded work. Once it is interrupted, prices are bounds found without a
/// search.
[[nodiscard]] EarlyInOrder early_in_order(const model::Frame& frame, const planner::ContactList& list,
                                          const std::vector<planner::Step>& steps, planner::Foreman* foreman = nullptr,
                                          ForgettingPrices prices = ForgettingPrices::counted);

/// Nothing reminds whoever follows the steps of the part before it is too late, and that costs something. A board
/// caught by its fittings is forgotten more easily than a pipe that the next step is screwed into.
[[nodiscard]] bool easily_forgotten(const planner::EarlyPart& facts);

/// Adds `must_come_before` and `last_calls` to a step's JSON; null where not known.
void add_early(Json& step, const planner::ContactList& list, const EarlyInOrder& early, std::size_t index);
/// Sentences for people under a step.
[[nodiscard]] std::vector<std::string> early_lines(const model::Frame& frame, const planner::ContactList& list,
                                                   const EarlyInOrder& early, std::size_t index);

}  // namespace dryfit::cli
