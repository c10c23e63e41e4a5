#pragma once
/// The verdict on a frame, worked out once for every command that needs it.
#include <optional>
#include <string>
#include <vector>

#include "planner/cure/cure.hpp"
#include "planner/fit/fit.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::cli {

/// `open`: it could be put together, but does not close.
enum class Verdict { buildable, open, locked, overlapping };
/// "buildable", "open", "locked", "overlapping": as JSON has it.
[[nodiscard]] const char* word_for(Verdict verdict);

/// Does the finished frame fit, and what order builds it? The order is left empty when parts overlap: a frame that
/// cannot exist has no order. An open closure does not keep an order from being found, for legality is judged on the
/// frame as placed; `check` counts it as a "no".
struct Finding {
  Verdict verdict = Verdict::buildable;  ///< never `open`: that is a matter of `fit` (see headline.hpp)
  int code = 0;                          ///< ExitCode
  std::vector<planner::Overlap> overlaps;
  planner::Fit fit;
  planner::Order order;
  std::vector<std::string> notes;
  std::optional<std::vector<planner::DesignCure>> cures;  ///< of a locked frame, once they have been looked for
};

[[nodiscard]] Finding find_out(const model::Frame& frame, const planner::ContactList& list);

}  // namespace dryfit::cli
