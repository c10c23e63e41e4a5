#pragma once
/// Which of several ways places a run or a board, where the ways do not agree.
#include "model/reading/draft.hpp"

namespace dryfit::model {

/// Per run of the draft its rank: of two runs that would each place a third one, or a board, that of the lower rank
/// does. A frame, its mirror images, the same turned by quarter turns and the same elsewhere give the same parts the
/// same rank, unless the frame is its own image; nor do names and the order of lines matter. Worked out by looking at
/// the frame from all eight sides and taking the look that reads first. O(n log n).
[[nodiscard]] std::vector<int> ranks_of_runs(const Draft& draft);

}  // namespace dryfit::model
