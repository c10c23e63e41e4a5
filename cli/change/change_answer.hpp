#pragma once
/// One change of design, worked out: everything that is printed or drawn about it.
#include <memory>
#include <string>
#include <vector>

#include "cli/change/built_state.hpp"
#include "cli/check/finding.hpp"
#include "cli/words/search_end.hpp"
#include "planner/change/change.hpp"
#include "planner/change/pieces.hpp"

namespace dryfit::cli {

/// As the command line has it.
struct ChangeRequest {
  std::vector<std::string> frames;  ///< old and new, or the old one alone with `set`
  std::vector<std::string> set;     ///< "P9.length=24"
  std::vector<std::string> map;     ///< "OLD=NEW"
  std::string built;
  std::string order;
  bool by_effort = false;
  int people = 2;
  long long budget = 20000;
  bool curve = false;  ///< price by step wanted also for a half-built frame
};

struct ChangeAnswer {
  LoadedFrame old_design;
  LoadedFrame new_design;
  LoadedFrame old_stands;        ///< as hands build it (as_built.hpp): what is searched and judged
  LoadedFrame new_stands;        ///< the same of the new design
  Finding found;                 ///< about the new design
  std::vector<std::string> set;  ///< what was set instead of a second file
  bool fits = true;              ///< the new design
  bool by_effort = false;
  planner::Matching matching;
  Built built;
  planner::ChangePlan plan;
  planner::Pieces pieces;
  std::vector<planner::MovedPiece> moved;
  Ended ended = Ended::proof;           ///< of the plan and the curve
  long long budget = 0;                 ///< as asked for
  std::vector<planner::PriceAt> curve;  ///< empty when --built names one state, or when the new design is locked
};

/// Reads, matches, searches, and has both halves of the plan confirmed by the judge that had no part in finding it.
/// Throws UsageError and model::InputError. In one place in memory, for its parts refer to each other.
[[nodiscard]] std::unique_ptr<ChangeAnswer> answer_change(const ChangeRequest& request, const Streams& streams);

/// Nothing is in one place with another part or behind a surface, and what has to meet does.
[[nodiscard]] bool fits(const Finding& finding);

/// States to search for one plan.
[[nodiscard]] long long search_budget(const ChangeRequest& request);

/// The old frame is said to be built, in part or whole, by an order that it has not: there is nothing to price.
[[nodiscard]] bool never_stood(const Built& built);

/// free: yes; undecided; else no. A new frame that does not fit is a no.
[[nodiscard]] int exit_code_of(const ChangeAnswer& answer);
/// "free", "teardown", "locked", "undecided".
[[nodiscard]] const char* verdict_word(const planner::ChangePlan& plan);

/// "P9.length=24" as target and value. Throws UsageError.
[[nodiscard]] std::pair<std::string, std::string> setting_of(const std::string& text);
/// The frame file with the values set. Throws UsageError that names the setting.
[[nodiscard]] std::string with_settings(std::string text, const std::vector<std::string>& settings);

/// The last step after which the change is still free, or -1: not even before the first.
[[nodiscard]] int last_free_step(const std::vector<planner::PriceAt>& curve);

}  // namespace dryfit::cli
