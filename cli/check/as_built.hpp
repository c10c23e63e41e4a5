#pragma once
/// The frame that hands build, where it is not the one as drawn: some frames can be put together only as they stand
/// after the turns of their fit. A pole that is drawn 4 mm too long ends behind the ceiling, and no driver gets at it.
#include <vector>

#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "planner/state/step.hpp"

namespace dryfit::cli {

/// Drawn longer than the room between two facing surfaces that it is screwed to both of: the turns of its fit decide
/// whether it gets in. O(parts).
[[nodiscard]] bool longer_than_its_room(const model::Frame& frame);

/// `loaded` where it can be built as drawn and is no longer than its room, or cannot be built at all; else the frame as
/// it stands after the turns of its fit. Its contacts have the same numbers. `finding` is about `loaded`. O(an order of
/// the frame) where the fit needs turns.
[[nodiscard]] LoadedFrame as_built(const LoadedFrame& loaded, const Finding& finding);

/// The same, with the finding worked out where the fit needs turns at all.
[[nodiscard]] LoadedFrame as_built(const LoadedFrame& loaded);

/// Has the steps count the threads of `drawn`, as made up: what the fit turns on or back is told beside the step.
void count_as_made_up(const model::Frame& drawn, const planner::ContactList& list, std::vector<planner::Step>& steps);

}  // namespace dryfit::cli
