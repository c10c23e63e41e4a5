#pragma once
/// Runs: one place after the other, boards in between, then what does not close.
#include "model/placing/placer.hpp"

namespace dryfit::model {

/// Gives every run and board that can have one its place (`offset`, `run_placed`, `board_placed`, `gave`, the tree of
/// placed_by); tells those that cannot.
void place_all(Placer& in);
/// Tells that nothing gives the run a place.
void tell_unplaced_run(const DraftRun& run, Faults& faults);
/// Once all is placed: a closure for every way that was not used.
void close_runs(Placer& in);

}  // namespace dryfit::model
