#pragma once
/// Bounds that have met.
#include "planner/change/change.hpp"

namespace dryfit::tests {

/// A proven number, and that one.
[[nodiscard]] inline bool is(const planner::Bounded& bounds, double value) {
  return bounds.proven() && bounds.at_most == value;
}

}  // namespace dryfit::tests
