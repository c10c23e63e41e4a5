#pragma once
/// How far joints still have to be turned for the new frame, from where they stand.
#include <vector>

#include "cli/change/change_answer.hpp"

namespace dryfit::cli {

/// A joint that stays made was turned for the old frame already, so only the difference is left of it; one that is
/// made for the new frame has all before it. In the new frame's joints, ascending, none of them zero.
[[nodiscard]] std::vector<planner::JointTurn> turns_left(const ChangeAnswer& a);

}  // namespace dryfit::cli
