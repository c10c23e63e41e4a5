#pragma once
/// Gives every run and board its place in the room.
#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"

namespace dryfit::model {

/// Moves all parts into room coordinates, fills boards, holes, closures, placed_by and Joint::closing.
///
/// Order, as if one repeated from the top of the file: place every board whose references are placed; take the first
/// run with a way to something placed, place it, start again. A run's ways in order: its own `at`, its `from`, its
/// `to`, then the links of other runs in file order. The first run of the file starts when it begins at a surface (at
/// [0, 0]) or, at the origin, when nothing else is left that could start. Every way not used gives a closure. Because a
/// run only ever becomes ready and stays so, a heap of run numbers finds the same order. O(n log n).
void place(Assembly& assembly, Faults& faults);

}  // namespace dryfit::model
