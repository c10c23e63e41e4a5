#include "planner/state/named_part.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

std::vector<NamedPart> named_parts(const model::Frame& frame, const ContactList& list) {
  std::vector<NamedPart> result;
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
    const model::Part& part = frame.part(p);
    if (part.union_mate != model::kNone && part.union_mate < p) continue;
    NamedPart named;
    named.label = part.label;
    named.board = part.kind == model::PartKind::board;
    named.parts.push_back(p);
    if (part.union_mate != model::kNone) named.parts.push_back(part.union_mate);
    for (const PartId half : named.parts) {
      const auto& at = list.at[dryfit::at(half)];
      named.contacts.insert(named.contacts.end(), at.begin(), at.end());
    }
    std::sort(named.contacts.begin(), named.contacts.end());
    named.contacts.erase(std::unique(named.contacts.begin(), named.contacts.end()), named.contacts.end());
    result.push_back(std::move(named));
  }
  return result;
}

}  // namespace dryfit::planner
