#pragma once
/// What the bench page's view to be turned is drawn from.
#include <string>

#include "cli/cards/deck.hpp"

namespace dryfit::cli {

/// As JSON for the script: {"numbers": as frame_numbers has them, "steps": {"step-3": [[shown parts], [new parts],
/// {"azimuth_deg", "elevation_deg", "lies": where the frame's right, back and up point}, {"turns", "at", "along"} or
/// null], ..., "start": [[all], []]}}; parts and fixtures by their numbers, places in mm of the finished frame.
[[nodiscard]] std::string bench_solids(const model::Frame& frame, const Deck& deck);

}  // namespace dryfit::cli
