#pragma once
/// The effort of a move worked out from the words of model/data/effort.csv and planner/effort/effort.hpp, slowly and
/// without the planner's code.
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::test {

/// What the move costs beyond the base when it is made while the contacts in `made` are, seconds.
[[nodiscard]] double naive_extra(const model::Frame& frame, const planner::ContactList& list,
                                 const std::vector<char>& made, const planner::Move& move, int people);

}  // namespace dryfit::test
