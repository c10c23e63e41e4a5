#pragma once
/// Gives every run and board its place in the room.
#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"

namespace dryfit::model {

/// Moves all parts into room coordinates, fills boards, holes, closures, placed_by and Joint::closing.
///
/// Every run with `at` has its place. Then, as if one repeated from the run of the lowest rank: place every board whose
/// references are placed; take the first run with a way to something placed, place it, start again. A run's ways in
/// order: its `from` and `to`, first the one to the run of the lower rank, then the links of other runs by theirs.
/// Where no run has `at`, the first that nothing places starts at [0, 0] of its surface or at the origin. Every way not
/// used gives a closure. Because a run only ever becomes ready and stays so, a heap of ranks finds the same order. O(n
/// log n).
///
/// `ranks`: per run of the draft; empty: as the draft has them. Where all ways agree they make no difference.
void place(Assembly& assembly, std::vector<int> ranks, Faults& faults);

/// No way to a part gives it another place than the one that was taken. O(closures).
[[nodiscard]] bool all_ways_agree(const Frame& frame);

}  // namespace dryfit::model
