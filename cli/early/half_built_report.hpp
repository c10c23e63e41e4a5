#pragma once
/// What is still open and what is closed already in a half-built frame.
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "planner/base/foreman.hpp"
#include "planner/early/trap.hpp"

namespace dryfit::cli {

struct HalfBuiltPart {
  planner::NamedPart part;
  bool on = false;     ///< all its contacts are made
  bool begun = false;  ///< some are
  planner::HalfBuilt now;
  std::optional<planner::HalfBuilt> within_hair;  ///< with a hair less, or more, room, where that is something else
  planner::FewestMoves price;  ///< when closed
};

/// Judges every part in the state `made`. `budget` counts undo moves asked for, per closed part. Once the
/// foreman, told of parts, ends the work, prices are bounds found without a search.
[[nodiscard]] std::vector<HalfBuiltPart> half_built_parts(planner::Undoer& undoer, const std::vector<char>& made,
                                                          long long budget, planner::Foreman* foreman = nullptr);

/// True when no part is closed.
[[nodiscard]] bool can_be_finished(const std::vector<HalfBuiltPart>& parts);

[[nodiscard]] Json half_built_json(const model::Frame& frame, const planner::ContactList& list,
                                   const std::vector<HalfBuiltPart>& parts);
void print_half_built(const model::Frame& frame, const planner::ContactList& list, int built,
                      const std::vector<HalfBuiltPart>& parts, std::ostream& out);

}  // namespace dryfit::cli
