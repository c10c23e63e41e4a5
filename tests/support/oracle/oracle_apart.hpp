#pragma once
/// Whether two pieces come apart by being carried straight away: what two linked rings never do. No loop is followed
/// and nothing is counted here, bodies are moved and looked at.
#include <set>

#include "model/frame/frame.hpp"

namespace dryfit::test {

/// Some direction of the 26 (along an axis, across two, across three) carries the parts of `one` from where they are
/// clear away from the parts of `other`, hitting nothing on the way, nor a surface when the other is screwed to the
/// room. Of linked pieces none does; of others nearly always one. O(bodies of one * bodies of other).
[[nodiscard]] bool carried_apart(const model::Frame& frame, const std::set<model::PartId>& one,
                                 const std::set<model::PartId>& other, bool other_in_room);

}  // namespace dryfit::test
