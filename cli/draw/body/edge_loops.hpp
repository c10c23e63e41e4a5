#pragma once
/// The outline of several faces together: edges that two of them share cancel, the rest is walked loop by loop.
#include <set>
#include <utility>
#include <vector>

namespace dryfit::cli {

/// From one point to the next, by index.
using DirectedEdges = std::set<std::pair<int, int>>;

/// Adds the edge; where its opposite is there already, both go.
void add_or_cancel(DirectedEdges& edges, int from, int to);

/// The edges joined end to end: points of each loop in walking order, the loop with the least point first. Where more
/// than one edge leaves a point the walk takes the one to the least point.
[[nodiscard]] std::vector<std::vector<int>> loops_of(DirectedEdges edges);

}  // namespace dryfit::cli
