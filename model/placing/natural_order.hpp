#pragma once
/// The order in which a frame is put on paper by itself: what follows depends on the frame alone, not on the lines of
/// its file.
#include "model/reading/draft.hpp"

namespace dryfit::model {

/// The draft with its surfaces, runs, boards and the lists of its boards in an order that follows from the frame:
/// renaming things, or writing them in another order, changes neither this order nor anything worked out from it.
///
/// Runs: first those with `at`, by their place, each followed by what hangs on it, the nearest first. A frame without
/// any `at` begins with the run that its structure chooses. Boards: by the run and the part that they hang on, then
/// by their own measures. `rests_on` keeps its first, which sets the height; `through` is sorted as a whole, and
/// DraftBoard::reach_from says which of it `reach` is measured from.
///
/// A draft with mistakes is taken as it comes: names that mean nothing are passed over. O(n log n), times the number
/// of runs that look alike where no run has `at`.
[[nodiscard]] Draft in_natural_order(Draft draft);

/// How a frame reads, from the first run to the last board.
struct ReadOrder {
  std::vector<int> runs;     ///< indices into Draft::runs
  std::vector<double> code;  ///< all that tells the frame from another one but names
};

/// As in_natural_order() orders runs, with the code. Of a draft without mistakes.
[[nodiscard]] ReadOrder read_order_of(Draft draft);

}  // namespace dryfit::model
