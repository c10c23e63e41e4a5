#pragma once
/// What a builder calls one part: a union is one part though it is two bodies.
#include <string>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

struct NamedPart {
  std::string label;                ///< what is taped on it
  std::vector<PartId> parts;        ///< one, or the two halves of a union
  std::vector<ContactId> contacts;  ///< its contacts, ascending; a union's nut among them
  bool board = false;
};

/// All parts in file order: runs first, then boards. O(parts + contacts).
[[nodiscard]] std::vector<NamedPart> named_parts(const model::Frame& frame, const ContactList& list);

}  // namespace dryfit::planner
