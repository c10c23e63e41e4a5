#pragma once
/// Structural self-check of a frame: both directions of every link.
#include <string>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::model {

/// Every broken invariant as a sentence; empty when the frame is sound. Checks: every joint names an existing
/// end and port of the right sex, each end is used once and points back, fastenings, holes and carriers name
/// existing parts, union mates are mutual, all coordinates are finite. O(n).
[[nodiscard]] std::vector<std::string> verify(const Frame& frame);

}  // namespace dryfit::model
