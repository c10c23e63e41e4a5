#pragma once
/// What the steps of an order lift, by the rule in planner/base/lifting.hpp.
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/state/step.hpp"

namespace dryfit::planner {

/// What taking off lifts: screws that come out lift nothing. O(bodies).
[[nodiscard]] Lift lift_of(const model::Frame& frame, const Move& undo);

/// What each step lifts. `steps` make their contacts one after the other; what none of them makes is made before.
/// - What turns, slides, is laid on or is brought to a nut is lifted.
/// - Screws to the room, straps and clips lift nothing: what they hold stands, hangs or lies there already.
/// - Screws of a flange into a board lift the lighter of two pieces that did not hang together before; a part on
///   its own is brought to what is made up.
/// O(steps * parts moved + parts).
[[nodiscard]] std::vector<Lift> lifts_of(const model::Frame& frame, const ContactList& list,
                                         const std::vector<Step>& steps);

}  // namespace dryfit::planner
