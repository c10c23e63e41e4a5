#pragma once
/// The contacts of a frame: what is made, one by one, while it is built, with the ids that people and tests use.
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "model/frame/frame.hpp"
#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"

namespace dryfit::planner {

using model::PartId;
/// Index into ContactList::contacts.
using ContactId = int;

enum class ContactKind { thread, hole, notch, rest, fastening, nut };
[[nodiscard]] const char* word_for(ContactKind kind);

/// One contact between two vertices; a vertex is a part or model::kRoom.
struct Contact {
  ContactKind kind = ContactKind::thread;
  std::string id;  ///< "P4/T1.right", "S1/P3", "FL/floor", "TOP/P4 strap", "U1"
  PartId a =
      model::kNone;  ///< thread: the male part; hole, notch, rest: the board; fastening: what is fastened; nut: ~a
  PartId b =
      model::kNone;  ///< thread: the female part; hole: the pipe; rest: the carrier; fastening: part or kRoom; nut: ~b
  int joint = model::kNone;      ///< thread: index into Frame::joints
  int hole = model::kNone;       ///< hole, notch: index into Board::holes of board a
  int fastening = model::kNone;  ///< fastening: index into Frame::fastenings
  model::Vec3 on_axis;           ///< thread, hole, notch: a point of the axis
  model::Direction axis;         ///< thread: from the fitting toward the pipe; hole, notch: the board's facing
  int line = model::kNone;       ///< thread, hole, notch: number of the axis line, equal for coaxial contacts
};

/// Whether it takes a move of its own to undo. Of a board's holes, notches and rests one move may undo several.
[[nodiscard]] constexpr bool takes_own_move(ContactKind kind) {
  return kind == ContactKind::thread || kind == ContactKind::nut || kind == ContactKind::fastening;
}

/// A pipe in a board, which slides along the axis.
[[nodiscard]] constexpr bool hole_like(ContactKind kind) {
  return kind == ContactKind::hole || kind == ContactKind::notch;
}

/// An undo move that the judge refused although the search found it legal. It is not made again in a state where as
/// much is made: what cannot be undone there cannot be undone with more in the way.
struct StruckOut {
  std::vector<ContactId> contacts;  ///< what it undoes, ascending
  std::vector<PartId> moving;       ///< the parts that move, ascending; empty: whatever moves
  std::vector<ContactId> made;      ///< all that was made, ascending
};

/// Vertices are numbered 0..parts-1, the room is parts.
/// What a tape measure does not tell apart, mm (1/64 in).
inline constexpr double kHairOfRoom = 25.4 / 64.0;

struct ContactList {
  /// A contact as seen from one of its vertices. Walks look at little else, so it stands close together.
  struct Link {
    ContactId contact = model::kNone;
    int other = model::kNone;  ///< the vertex at its other end
    bool hole_like = false;    ///< a hole or notch
  };
  std::vector<Contact> contacts;           ///< threads, nuts, holes and notches, rests, fastenings, each in file order
  std::vector<std::vector<ContactId>> at;  ///< per vertex (room last): contacts that touch it, ascending
  std::vector<Link> links;                 ///< as `at`, one vertex after the other
  std::vector<int> first_link;             ///< per vertex, into links; and the end
  std::unordered_map<std::string, ContactId> by_id;
  int lines = 0;                      ///< number of axis lines
  std::vector<StruckOut> struck_out;  ///< none when it is made
  /// Bodies that overlap by less than this are said to touch and no more, mm; by so much a way may be short too. What
  /// is asked again with a hair more or less of it is told to be within a hair.
  double touch = model::kTouch;
  /// What goes through a hole or a slot is narrower than it by this much or more, mm. Varied with `touch`.
  double passing = model::kTouch;
  [[nodiscard]] const Contact& contact(ContactId id) const { return contacts[dryfit::at(id)]; }
  [[nodiscard]] Contact& contact(ContactId id) { return contacts[dryfit::at(id)]; }
  [[nodiscard]] std::span<const Link> links_of(int vertex) const {
    const auto first = dryfit::at(first_link[dryfit::at(vertex)]);
    return {links.data() + first, dryfit::at(first_link[dryfit::at(vertex) + 1]) - first};
  }
  [[nodiscard]] int room() const { return static_cast<int>(at.size()) - 1; }
  /// Contact with that id, or kNone. "P1/U1~a.down" is taken for "P1/U1.down".
  [[nodiscard]] ContactId find(std::string_view id) const;
  [[nodiscard]] int vertex(PartId part) const { return part == model::kRoom ? room() : part; }
  /// The other one of a contact's two vertices.
  [[nodiscard]] int other_vertex(ContactId id, int of) const {
    const int a = vertex(contact(id).a);
    return a == of ? vertex(contact(id).b) : a;
  }
  /// Whether what is `across` mm wide goes through a hole or slot of `hole` mm. Sums of sizes may end a rounding short.
  [[nodiscard]] bool goes_through(double across, double hole) const {
    constexpr double kRounding = 1e-6;
    return across <= hole - passing + kRounding;
  }
};

/// O(n log n).
[[nodiscard]] ContactList contacts_of(const model::Frame& frame);

/// The same contacts judged with so much more room everywhere, mm, less when negative: parts may overlap by so much
/// more, holes and slots let wider ones through, and a driver needs so much less.
[[nodiscard]] ContactList with_more_room(const ContactList& list, double by);

}  // namespace dryfit::planner
