#pragma once
/// Which contacts of a frame can stand for each other: the frame mirrored left to right or front to back, or turned
/// half round about an upright axis, is the same frame.
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// Per contact its image.
using ContactMap = std::vector<ContactId>;

/// The symmetries of the frame in its room, without the one that changes nothing; at most three. What is legal or costs
/// something, does so in the image too. Lengths may differ by 0.001 mm. O(n^2) at worst, for parts in one place.
[[nodiscard]] std::vector<ContactMap> symmetries_of(const model::Frame& frame, const ContactList& list);

}  // namespace dryfit::planner
