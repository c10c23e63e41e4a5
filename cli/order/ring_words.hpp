#pragma once
/// Parts that go through closed rings, as words and JSON.
#include <string>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "planner/order/in_rings.hpp"

namespace dryfit::cli {

/// What has to be in a ring, and how long it hangs there.
[[nodiscard]] std::string in_ring_text(const model::Frame& frame, const planner::InRing& ring);
[[nodiscard]] Json in_ring_json(const model::Frame& frame, const planner::InRing& ring);
/// Those of one step.
[[nodiscard]] Json in_rings_json(const model::Frame& frame, const std::vector<planner::InRing>& rings, int step);

}  // namespace dryfit::cli
