#include "planner/now/with_itself.hpp"

#include <numeric>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

Matching with_itself(const model::Frame& frame, const ContactList& list, const std::vector<ContactId>& renewed) {
  Matching same;
  same.new_of_old.resize(frame.parts.size());
  std::iota(same.new_of_old.begin(), same.new_of_old.end(), 0);
  same.old_of_new = same.new_of_old;
  same.by.assign(frame.parts.size(), MatchedBy::id);
  same.may_turn.assign(frame.parts.size(), 0);
  same.kept_as.resize(list.contacts.size());
  std::iota(same.kept_as.begin(), same.kept_as.end(), 0);
  for (const ContactId c : renewed) same.kept_as[at(c)] = model::kNone;
  return same;
}

}  // namespace dryfit::planner
