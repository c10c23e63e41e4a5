#pragma once
/// A frame matched with itself, for questions that a change of design asks. Private to planner/now.
#include <vector>

#include "planner/change/match.hpp"

namespace dryfit::planner {

/// Every contact stays as it is but for those of `renewed`, parts that are taken out. O(parts + contacts).
[[nodiscard]] Matching with_itself(const model::Frame& frame, const ContactList& list,
                                   const std::vector<ContactId>& renewed);

}  // namespace dryfit::planner
