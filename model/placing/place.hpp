#pragma once
/// Gives every run and board its place in the room.
#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"

namespace dryfit::model {

/// Moves all parts into room coordinates, fills boards, holes, closures, placed_by and Joint::closing.
///
/// Every run with `at` has its place. Then, as if one repeated from the first run of the natural order: place every
/// board whose references are placed; take the first run with a way to something placed, place it, start again. A
/// run's ways in order: its `from` and `to`, first the one to the run that comes first, then the links of other runs in
/// their order. Where no run has `at`, the first that nothing places starts at [0, 0] of its surface or at the origin.
/// Every way not used gives a closure. Because a run only ever becomes ready and stays so, a heap of run numbers finds
/// the same order. O(n log n).
void place(Assembly& assembly, Faults& faults);

}  // namespace dryfit::model
