#pragma once
/// The words in which the judge refuses a step. Parts are called by what is taped on them.
#include <string>
#include <vector>

#include "model/frame/message.hpp"
#include "planner/judge/replay_scene.hpp"
#include "planner/state/step.hpp"

namespace dryfit::planner::judge {

using model::Message;
using model::message;

/// "P3", "S1", "the room".
[[nodiscard]] Message called(const Scene& scene, int vertex);
/// "the floor".
[[nodiscard]] Message surface_called(const Scene& scene, int surface);
/// "screw", "slide", ...: words of the format.
[[nodiscard]] std::string called(Action action);
/// "a thread", "a hole", ...
[[nodiscard]] Message called(ContactKind kind);
/// A small length in the frame's units, inches to 1/64: "1-49/64 in", "44.9 mm"; in both where the scene is asked to.
[[nodiscard]] Message shop_length(double mm, const Scene& scene);
/// Why what is `width` mm wide does not go through a hole, by words for the hole: "is wider than its hole (37 mm
/// against 28 mm)"; where it is about play, how much there is and how much it takes.
[[nodiscard]] Message against_hole(double width, double hole, const Message& called, const Scene& scene);
/// Where a thing comes from that leaves along `undo`: "from above", "from the left", "from the up-right side".
[[nodiscard]] Message coming_from(model::Direction undo);
/// "P1", "P1 and T1", "P1, T1 and P2"; after `most` names "and 12 more".
[[nodiscard]] Message listed(const std::vector<Message>& names, std::size_t most = 12);
/// Adds the name unless the last one is the same.
void name_next(std::vector<Message>& names, Message name);
/// What cannot be done and the reason: "S1 cannot be laid: P3 already lies on it".
[[nodiscard]] Message with_reason(const Message& cannot, const Message& reason);
/// What lies between the ends of a way of contacts that starts at vertex `from`, e.g. "P1, T1 and P2"; when nothing
/// lies between them, the ids of the contacts.
[[nodiscard]] Message between(const Scene& scene, int from, const std::vector<ContactId>& way);

}  // namespace dryfit::planner::judge
