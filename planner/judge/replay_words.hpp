#pragma once
/// The words in which the judge refuses a step. Parts are called by what is taped on them.
#include <string>
#include <vector>

#include "planner/judge/replay_scene.hpp"
#include "planner/state/step.hpp"

namespace dryfit::planner::judge {

/// "P3", "S1", "the room".
[[nodiscard]] std::string called(const Scene& scene, int vertex);
/// "the floor".
[[nodiscard]] std::string surface_called(const Scene& scene, int surface);
/// "screw", "slide", ...
[[nodiscard]] std::string called(Action action);
/// "a thread", "a hole", ...
[[nodiscard]] std::string called(ContactKind kind);
/// A small length in the frame's units, inches to 1/64: "1-49/64 in", "44.9 mm"; in both where the scene is asked to.
[[nodiscard]] std::string shop_length(double mm, const Scene& scene);
/// Why what is `width` mm wide does not go through a hole, by words for the hole: "is wider than its hole (37 mm
/// against 28 mm)"; where it is about play, how much there is and how much it takes.
[[nodiscard]] std::string against_hole(double width, double hole, const std::string& called, const Scene& scene);
/// Where a thing comes from that leaves along `undo`: "above", "the left", "the up-right side".
[[nodiscard]] std::string coming_from(model::Direction undo);
/// "P1", "P1 and T1", "P1, T1 and P2"; after `most` names "and 12 more".
[[nodiscard]] std::string listed(const std::vector<std::string>& names, std::size_t most = 12);
/// What lies between the ends of a way of contacts that starts at vertex `from`, e.g. "P1, T1 and P2"; when nothing
/// lies between them, the ids of the contacts.
[[nodiscard]] std::string between(const Scene& scene, int from, const std::vector<ContactId>& way);

}  // namespace dryfit::planner::judge
