#pragma once
/// The verdict on a frame, worked out once for every command that needs it.
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "planner/cure/closure_cure.hpp"
#include "planner/cure/cure.hpp"
#include "planner/fit/fit.hpp"
#include "planner/order/margin.hpp"
#include "planner/order/order.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::cli {

/// `open`: it could be put together, but does not close, or a board has nothing to lie on. `undecided`: as `open`, but
/// the limits of the work were met before it was known whether turning closes it.
enum class Verdict { buildable, open, locked, overlapping, undecided };
/// "buildable", "open", "locked", "overlapping", "undecided": as JSON has it.
[[nodiscard]] const char* word_for(Verdict verdict);

/// A frame and its contacts, which have the numbers that those of the frame as drawn have.
struct Placed {
  model::Frame frame;
  planner::ContactList contacts;
};

/// Does the finished frame fit, and what order builds it? The order is left empty when parts overlap: a frame that
/// cannot exist has no order. An open closure does not keep an order from being found, for legality is judged on the
/// frame as placed; `check` counts it as a "no". Where the fit needs turns, the frame is judged as it stands after
/// them.
struct Finding {
  Verdict verdict = Verdict::buildable;  ///< never `open` or `undecided`: these are matters of `fit` (see headline.hpp)
  int code = 0;                          ///< ExitCode
  std::vector<planner::Overlap> overlaps;
  std::vector<model::PartId> without_rest;  ///< boards that nothing carries, for their carriers pass their holes
  planner::Fit fit;
  std::shared_ptr<const Placed> turned;  ///< placed again after the turns of the fit; null when it needs none
  /// How it stands once it is made: with its turns, or as `drawn`.
  [[nodiscard]] const model::Frame& as_made(const model::Frame& drawn) const { return turned ? turned->frame : drawn; }
  planner::Order order;
  /// No order gets it in between floor and ceiling: how much headroom the joint lacks that lacks least, mm.
  std::optional<double> no_way_in;
  std::vector<model::PartId> drops;  ///< boards that drop lower than drawn
  planner::Margin margin;            ///< once it has been looked for (margin_report.hpp)
  std::vector<std::string> notes;
  std::vector<planner::ClosureCure> closing;  ///< of a frame that does not close, once they have been looked for
  std::optional<std::vector<planner::DesignCure>> cures;  ///< of a locked frame, once they have been looked for
};

/// `foreman` may end the search for what lines up; see Fit::decided.
[[nodiscard]] Finding find_out(const model::Frame& frame, const planner::ContactList& list,
                               planner::Foreman* foreman = nullptr);

}  // namespace dryfit::cli
