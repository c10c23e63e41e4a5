#pragma once
/// What a builder measures to be sure of the ways that make a length.
#include <vector>

#include "planner/fit/confidence.hpp"
#include "planner/shop/span.hpp"

namespace dryfit::planner {

/// The fittings that the ways rest on and that nobody has measured: couplings, and those at the ends. Each once.
[[nodiscard]] std::vector<WorthMeasuring> worth_measuring(const SpanQuery& query);

}  // namespace dryfit::planner
