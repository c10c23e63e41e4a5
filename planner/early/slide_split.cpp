#include "planner/early/slide_split.hpp"

#include <algorithm>
#include <functional>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"

namespace dryfit::planner {
namespace {

using model::Direction;

/// One per line that ways run along, whichever way they are told.
void put_line(std::vector<Direction>& lines, const Direction& way) {
  if (std::none_of(lines.begin(), lines.end(), [&](const Direction& d) { return parallel(d, way); })) {
    lines.push_back(way);
  }
}

/// The pieces after some contacts are undone, but for contacts that let go when something moves along a line.
class Pieces {
 public:
  Pieces(const State& state, const std::vector<ContactId>& undone, const std::function<bool(const Contact&)>& lets_go)
      : list_(state.list()), sets_(list_.at.size()), has_(list_.at.size(), 0), has_with_room_(list_.at.size(), 0) {
    std::vector<const Contact*> loose;
    for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) {
      const Contact& contact = list_.contact(c);
      if (!state.made(c) || std::find(undone.begin(), undone.end(), c) != undone.end()) continue;
      if (lets_go(contact)) {
        loose.push_back(&contact);
      } else {
        sets_.join(list_.vertex(contact.a), list_.vertex(contact.b));
      }
    }
    const int room = sets_.find(list_.room());
    for (const Contact* contact : loose) {
      const int a = of(contact->a), b = of(contact->b);
      has_[at(a)] = has_[at(b)] = 1;
      if (a == room || b == room) has_with_room_[at(a == room ? b : a)] = 1;
    }
    has_with_room_[at(room)] = 0;
  }
  [[nodiscard]] int of(PartId part) const { return sets_.find(list_.vertex(part)); }
  /// The contact, undone, leaves two pieces that could both leave something yet.
  [[nodiscard]] bool parted_by(const Contact& contact) const {
    const int a = of(contact.a), b = of(contact.b);
    return a != b && has_[at(a)] != 0 && has_[at(b)] != 0;
  }
  /// The contact, undone, joined two of the pieces that move where the room's piece stays, and several of them leave
  /// it: they went as one only while they hung together.
  [[nodiscard]] bool unlinked_by(const Contact& contact) const {
    const int room = sets_.find(list_.room());
    return of(contact.a) != room && of(contact.b) != room &&
           std::count(has_with_room_.begin(), has_with_room_.end(), 1) > 1;
  }

 private:
  const ContactList& list_;
  DisjointSets sets_;
  std::vector<char> has_;            ///< per piece: contacts that let go
  std::vector<char> has_with_room_;  ///< and such with the piece that holds the room
};

Direction opening(const model::Frame& frame, const Contact& notch) {
  return frame.board_of(notch.a).holes[at(notch.hole)].open;
}

/// Straight along holes and slots.
bool parts_along(const State& state, const std::vector<ContactId>& undone, const Direction& along) {
  const ContactList& list = state.list();
  const auto slides = [&](const Contact& contact) { return hole_like(contact.kind) && parallel(contact.axis, along); };
  const Pieces pieces(state, undone, slides);
  return std::any_of(undone.begin(), undone.end(), [&](ContactId c) {
    const Contact& contact = list.contact(c);
    return slides(contact) ? pieces.unlinked_by(contact) : pieces.parted_by(contact);
  });
}

/// Out of slots through their open sides. A slot that is open the other way pushes along what is in it, so that undoing
/// one parts what moves as well.
bool parts_sideways(const model::Frame& frame, const State& state, const std::vector<ContactId>& undone,
                    const Direction& along) {
  const Pieces pieces(state, undone, [&](const Contact& contact) {
    return contact.kind == ContactKind::notch && parallel(opening(frame, contact), along);
  });
  return std::any_of(undone.begin(), undone.end(),
                     [&](ContactId c) { return pieces.parted_by(state.list().contact(c)); });
}

}  // namespace

bool parts_a_slide(const model::Frame& frame, const State& state, const std::vector<ContactId>& undone) {
  const ContactList& list = state.list();
  std::vector<Direction> holes, openings;
  for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
    const Contact& contact = list.contact(c);
    if (!state.made(c) || !hole_like(contact.kind)) continue;
    put_line(holes, contact.axis);
    if (contact.kind == ContactKind::notch) put_line(openings, opening(frame, contact));
  }
  return std::any_of(holes.begin(), holes.end(), [&](const auto& d) { return parts_along(state, undone, d); }) ||
         std::any_of(openings.begin(), openings.end(),
                     [&](const auto& d) { return parts_sideways(frame, state, undone, d); });
}

}  // namespace dryfit::planner
