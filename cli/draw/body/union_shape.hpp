#pragma once
/// Unions as they are drawn: two halves of which one carries the nut, so that an open one looks open. Proportions are
/// those of a drawing, not of any maker's union.
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// Whether the frame has any union.
[[nodiscard]] bool has_unions(const model::Frame& frame);
/// The same frame with the bodies of union halves drawn out, for drawing alone: a body, and on the first half a nut
/// that reaches over the thread of the second. Of the halves in `open` the nut is pushed back. O(parts).
[[nodiscard]] model::Frame with_unions_drawn(const model::Frame& frame, const std::vector<model::PartId>& open);

}  // namespace dryfit::cli
