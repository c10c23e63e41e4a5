#pragma once
/// The verdict on a frame, worked out once for every command that needs it.
#include <optional>
#include <string>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "planner/cure/cure.hpp"
#include "planner/fit/fit.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::cli {

/// Does the finished frame fit, and what order builds it? The order is left empty when parts overlap: a frame that
/// cannot exist has no order. An open closure does not keep an order from being found, for legality is judged on the
/// frame as placed; `check` counts it as a "no".
struct Finding {
  std::string verdict;  ///< "buildable", "locked" or "overlapping"
  int code = 0;         ///< ExitCode
  std::vector<planner::Overlap> overlaps;
  planner::Fit fit;
  planner::Order order;
  std::vector<std::string> notes;
  std::optional<std::vector<planner::DesignCure>> cures;  ///< of a locked frame, once they have been looked for
};

[[nodiscard]] Finding find_out(const model::Frame& frame, const planner::ContactList& list);

/// Adds `overlaps`, `knot` and `cures` to a document, as far as there are any, and `notes`.
void add_evidence(Json& document, const Finding& finding, const model::Frame& frame, const planner::ContactList& list);

/// The evidence for a "no", in whole lines for people.
[[nodiscard]] std::string evidence_text(const Finding& finding, const model::Frame& frame,
                                        const planner::ContactList& list);

}  // namespace dryfit::cli
