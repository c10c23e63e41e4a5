#pragma once
/// Placing a frame again with turns given.
#include <vector>

#include "planner/fit/fit_answer.hpp"

namespace dryfit::planner {

/// The frame with turns given: positions moved, engagements deeper. Closures keep their place in the list and get
/// the gaps that come out. `shift` moves a root along the axes that the file leaves open (PlacedBy::loose).
/// Shares nothing with the equations but the frame.
[[nodiscard]] model::Frame turned(const model::Frame& frame, const std::vector<JointTurn>& turns,
                                  model::Vec3 shift = {});

}  // namespace dryfit::planner
