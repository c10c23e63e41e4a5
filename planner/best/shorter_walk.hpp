#pragma once
/// Among orders of one effort, the one with less walking back and forth: joints that can be made in either order are
/// exchanged as long as that shortens the way from one to the next.
#include "planner/best/best_answer.hpp"
#include "planner/effort/undo_choice.hpp"

namespace dryfit::planner {

/// The way over the floor from each move's place to the next one's, mm; what the arms reach is no way. O(moves).
[[nodiscard]] double walk_of(const ContactList& list, const Effort& effort, const std::vector<Move>& undo_moves);

/// Exchanges bare parts that are screwed on one after the other at no extra, on one piece of work, and not more than a
/// hand's reach higher before lower, in one pose and without more props; boards, pieces and screws keep their places.
/// Legal before, legal after; effort, kinds, poses and what was weighed stay. Deterministic; no new names change the
/// outcome. O(exchanges * moves).
void shorten_walk(Undoer& undoer, const Effort& effort, const Handling& handling, BestOrder& best);

}  // namespace dryfit::planner
