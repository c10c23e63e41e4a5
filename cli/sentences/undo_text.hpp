#pragma once
/// Undo moves as instructions, in the voice of the build steps.
#include <string>
#include <vector>

#include "cli/sentences/step_text.hpp"
#include "planner/moves/moves.hpp"

namespace dryfit::cli {

/// One undo move as a step: numbered, with the forward action's word, its parts and its contacts.
[[nodiscard]] planner::Step undo_step(const model::Frame& frame, const planner::Move& move, int number);

/// "Unscrew P4 from T2: hold T2, turn P4 4-3/4 turns." Cautions for weight only where they apply.
[[nodiscard]] StepWords undo_words(const model::Frame& frame, const planner::ContactList& list,
                                   const planner::Move& move);

}  // namespace dryfit::cli
