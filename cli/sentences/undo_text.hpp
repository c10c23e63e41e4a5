#pragma once
/// Undo moves as instructions, in the voice of the build steps.
#include <string>
#include <vector>

#include "cli/sentences/step_text.hpp"
#include "planner/moves/moves.hpp"

namespace dryfit::cli {

/// One undo move as a step: numbered, with the forward action's word, its parts and its contacts.
[[nodiscard]] planner::Step undo_step(const model::Frame& frame, const planner::Move& move, int number);

/// Moves that are undone one after the other, from where the contacts in `made` (one flag each) are made: "Unscrew P4
/// from T2: hold T2, turn P4 4-3/4 turns the other way." Boards that stay while a pipe turns in them are told. Cautions
/// for weight only where they apply. O(moves * (contacts of what moves)).
[[nodiscard]] std::vector<StepWords> undo_words(const model::Frame& frame, const planner::ContactList& list,
                                                const std::vector<planner::Move>& moves, std::vector<char> made);

}  // namespace dryfit::cli
