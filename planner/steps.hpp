#pragma once
/// From undo moves to the steps that a builder recognises.
#include "planner/moves.hpp"
#include "planner/order.hpp"

namespace dryfit::planner {

/// Turns undo moves (first undone first) into numbered build steps, first built first. A pipe that is passed through
/// boards and then screwed in is one step. O(total size).
[[nodiscard]] std::vector<Step> steps_of(const model::Frame& frame, const ContactList& list,
                                         const std::vector<Move>& undo_moves);

/// The step that one undo move is when done forward; without a number.
[[nodiscard]] Step step_of(const model::Frame& frame, const Move& move);

/// The forward action of one undo move.
[[nodiscard]] Action action_of(const model::Frame& frame, const Move& move);

}  // namespace dryfit::planner
