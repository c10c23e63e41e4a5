#pragma once
/// What must go on early, as JSON and in words.
#include <iosfwd>
#include <string>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "planner/early/precedence.hpp"
#include "planner/early/trap.hpp"

namespace dryfit::cli {

/// The facts of one frame and one order of it.
struct EarlyReport {
  const model::Frame& frame;
  const planner::ContactList& list;
  std::vector<planner::EarlyPart> parts;  ///< in file order; fewer when the report is about one part
  planner::Precedence precedence;
};

/// One entry of `parts`.
[[nodiscard]] Json early_part_json(const EarlyReport& report, const planner::EarlyPart& early);
/// `pairs` and `together`: the strict relation in full.
void add_relation(Json& document, const planner::Precedence& precedence, const planner::ContactList& list);

/// "S2 must be on before step 12, which screws A3 into E1 ...": why a part has a last call; empty when it has none.
[[nodiscard]] std::string why_text(const EarlyReport& report, const planner::EarlyPart& early);
/// Traps worst first, then what can wait. `whole`: with lock-outs of every part.
void print_early(const EarlyReport& report, bool whole, std::ostream& out);
/// The strict relation, reduced.
void print_links(const EarlyReport& report, std::ostream& out);
/// Everything about one part.
void print_story(const EarlyReport& report, const planner::EarlyPart& early, std::ostream& out);

/// "3", "at least 5, at most 9".
[[nodiscard]] std::string bounded_text(int at_least, int at_most);

}  // namespace dryfit::cli
