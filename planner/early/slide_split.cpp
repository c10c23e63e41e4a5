#include "planner/early/slide_split.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"

namespace dryfit::planner {
namespace {

bool is_hole(const Contact& contact) { return contact.kind == ContactKind::hole || contact.kind == ContactKind::notch; }

bool has(const std::vector<ContactId>& contacts, ContactId c) {
  return std::find(contacts.begin(), contacts.end(), c) != contacts.end();
}

/// One per line that holes run along, whichever way it is told.
std::vector<model::Direction> directions_of_holes(const State& state) {
  std::vector<model::Direction> found;
  const ContactList& list = state.list();
  for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
    const Contact& contact = list.contact(c);
    if (!state.made(c) || !is_hole(contact)) continue;
    const bool known =
        std::any_of(found.begin(), found.end(), [&](const model::Direction& d) { return parallel(d, contact.axis); });
    if (!known) found.push_back(contact.axis);
  }
  return found;
}

}  // namespace

bool parts_a_slide(const State& state, const std::vector<ContactId>& undone) {
  const ContactList& list = state.list();
  for (const model::Direction& along : directions_of_holes(state)) {
    const auto slides = [&](const Contact& contact) { return is_hole(contact) && parallel(contact.axis, along); };
    DisjointSets pieces(list.at.size());
    const auto piece = [&](PartId part) { return pieces.find(list.vertex(part)); };
    for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
      const Contact& contact = list.contact(c);
      if (!state.made(c) || slides(contact) || has(undone, c)) continue;
      pieces.join(list.vertex(contact.a), list.vertex(contact.b));
    }
    std::vector<char> slides_in(list.at.size(), 0);
    for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
      const Contact& contact = list.contact(c);
      if (!state.made(c) || !slides(contact) || has(undone, c)) continue;
      slides_in[at(piece(contact.a))] = slides_in[at(piece(contact.b))] = 1;
    }
    const bool parted = std::any_of(undone.begin(), undone.end(), [&](ContactId c) {
      const Contact& contact = list.contact(c);
      const int a = piece(contact.a), b = piece(contact.b);
      return !slides(contact) && a != b && slides_in[at(a)] != 0 && slides_in[at(b)] != 0;
    });
    if (parted) return true;
  }
  return false;
}

}  // namespace dryfit::planner
