#pragma once
/// Contacts of a move or step, to be compared whatever order they stand in. Private to planner/now.
#include <algorithm>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

[[nodiscard]] inline std::vector<ContactId> sorted_contacts(std::vector<ContactId> contacts) {
  std::sort(contacts.begin(), contacts.end());
  return contacts;
}

}  // namespace dryfit::planner
