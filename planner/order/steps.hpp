#pragma once
/// From undo moves to the steps that a builder recognises.
#include "planner/moves/moves.hpp"
#include "planner/order/pose.hpp"
#include "planner/state/step.hpp"

namespace dryfit::planner {

/// Turns undo moves (first undone first) into numbered build steps, first built first. A pipe that is passed through
/// boards and then screwed in is one step, unless the work is turned in between. `pose_of_move`: empty: it never is.
/// O(total size).
[[nodiscard]] std::vector<Step> steps_of(const model::Frame& frame, const ContactList& list,
                                         const std::vector<Move>& undo_moves,
                                         const std::vector<Pose>& pose_of_move = {});

/// The step that one undo move is when done forward; without a number.
[[nodiscard]] Step step_of(const model::Frame& frame, const Move& move);

/// The forward action of one undo move.
[[nodiscard]] Action action_of(const model::Frame& frame, const Move& move);

}  // namespace dryfit::planner
