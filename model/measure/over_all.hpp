#pragma once
/// Bounds of several bodies.
#include "model/frame/frame.hpp"

namespace dryfit::model {

/// The least bounds that hold both.
[[nodiscard]] Bounds joined(const Bounds& a, const Bounds& b);

/// Of all bodies of a frame; all zero for a frame without any. O(bodies).
[[nodiscard]] Bounds over_all(const Frame& frame);

}  // namespace dryfit::model
