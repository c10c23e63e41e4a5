#pragma once
/// Parts that would be moved into a wall or the floor. Private to planner/.
#include "planner/state/body_index.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// The part, moved by `sweep`, gets into a surface by `touch` or more. O(bodies of the part * surfaces).
[[nodiscard]] bool enters_surface(const model::Frame& frame, const BodyIndex& index, PartId part, model::Vec3 sweep,
                                  double touch);

}  // namespace dryfit::planner
