#pragma once
/// What a viewer sees, found the slow way: one straight line of sight through the bodies of a frame. Shares nothing
/// with the drawing code but the frame and the measures of its fixtures.
#include <vector>

#include "cli/draw/body/fixtures.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::tests {

/// A line p + t * toward; larger t is nearer to the viewer.
struct Sight {
  model::Vec3 point;
  model::Vec3 toward;  ///< length 1
};

/// The part whose body the viewer sees first along the line, or kNone. Boards have their holes and slots; equal arms
/// of a bend are joined to a full corner as pipe fitters draw them. Exact but for rounding.
[[nodiscard]] model::PartId first_seen(const model::Frame& frame, const std::vector<bool>& shown, const Sight& sight);

/// The same with fixtures `drawn` (indices into `fixtures`); fixture i is seen as part number parts + i. Bands are
/// round here, not made of facets, and a patch is looked through from the side that is not the room.
[[nodiscard]] model::PartId first_seen(const model::Frame& frame, const std::vector<bool>& shown, const Sight& sight,
                                       const std::vector<cli::Fixture>& fixtures, const std::vector<int>& drawn);

}  // namespace dryfit::tests
