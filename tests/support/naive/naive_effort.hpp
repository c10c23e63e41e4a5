#pragma once
/// The effort of a move worked out from the words of model/data/effort.csv and planner/effort/effort.hpp, slowly and
/// without the planner's code.
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::test {

/// What the move costs beyond the base when it is made while the contacts in `made` are, seconds.
[[nodiscard]] double naive_extra(const model::Frame& frame, const planner::ContactList& list,
                                 const std::vector<char>& made, const planner::Move& move, int people);

/// One way to make a joint: what it costs whatever the pose, and the rest that poses need to know.
struct NaiveWay {
  double extra = 0.0;
  model::Vec3 on;  ///< the way it goes on, forward
};
/// The ways in which the undo move can be done forward when the contacts in `made` are, those of the move included: a
/// slide with one side moving or the other, anything else as it is.
[[nodiscard]] std::vector<NaiveWay> naive_ways(const model::Frame& frame, const planner::ContactList& list,
                                               const std::vector<char>& made, const planner::Move& move, int people);

}  // namespace dryfit::test
