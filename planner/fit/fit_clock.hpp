#pragma once
/// Where a turn must be whole because a branch must point where it points.
///
/// A pipe, coupling, cap, plug, bushing or flange is round: its own clock position does not show. Take a straight
/// chain of round parts between two fittings A and B that do point somewhere. All threads are right-handed, so each
/// turn deeper, at either end of a pipe, turns what lies on its right against what lies on its left the same way
/// round: B turns against A by the sum of the turns in the chain. That sum must therefore be whole; how it is shared
/// between the chain's joints is free. A chain that ends in a cap, a flange (it turns before it is screwed down), a
/// bare end or a union half (it turns while the nut is loose) is bound to nothing.
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::planner {

/// True for fittings whose branch or bend points somewhere.
[[nodiscard]] bool is_clocked(model::PartKind kind);

/// Sets of joints (ascending) whose extra turns add up to a whole number, in order of their lowest joint. O(joints).
[[nodiscard]] std::vector<std::vector<int>> clocked_chains(const model::Frame& frame);

}  // namespace dryfit::planner
