#pragma once
/// A frame with some of its parts where they come from.
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// The same frame with bodies, openings, boards and holes of the parts moved `by`, for drawing alone: what is fixed to
/// them is not asked. O(parts).
[[nodiscard]] model::Frame staged(const model::Frame& frame, const std::vector<model::PartId>& parts, model::Vec3 by);

}  // namespace dryfit::cli
