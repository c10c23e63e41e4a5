#pragma once
/// Whether a frame can be got in between floor and ceiling at all, whatever order it is built in.
#include <optional>

#include "planner/effort/effort.hpp"

namespace dryfit::planner {

/// A *column* is what threads along the vertical join. The last of its joints is made while it stands in its place, and
/// then needs the thread's length of headroom, or while it lies, and then the whole column has to be tilted up, with
/// every board that is closed round one of its pipes by then. Where neither goes, no order gets it in: how much more
/// headroom than there is the joint takes that lacks least, mm, of the worst column. Nothing where every column gets in
/// by itself, and for a frame without floor and ceiling. O(columns * joints * parts).
[[nodiscard]] std::optional<double> no_way_in(const model::Frame& frame, const Effort& effort);

}  // namespace dryfit::planner
