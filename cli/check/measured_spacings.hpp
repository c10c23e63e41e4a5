#pragma once
/// Spacings of posts that somebody has measured: "P3-P8=31-7/8 in".
#include <string>
#include <vector>

#include "planner/shop/measured.hpp"

namespace dryfit::cli {

/// Lays the holes out by spacings as they are typed; a bare number is in the frame's units. Throws UsageError when one
/// cannot be read, names no two pipes that go through one board, is far from the drawing, or does not go together with
/// the others.
void take_measured(const model::Frame& frame, const std::vector<std::string>& typed,
                   std::vector<planner::DrillSheet>& sheets);

/// What --measured says in the help of every command that has it.
inline constexpr const char* kMeasuredHelp =
    "P3-P8=LENGTH: lay the holes out for posts that are that far apart, centre to centre; once a pair of posts";

}  // namespace dryfit::cli
