#include "planner/state/contacts.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"
#include "planner/state/axis_lines.hpp"

namespace dryfit::planner {
namespace {

/// Lists the contacts of a frame, kind after kind.
class Listing {
 public:
  explicit Listing(const model::Frame& frame) : frame_(frame) {
    list_.at.resize(frame.parts.size() + 1);
    for (const model::Fastening& f : frame.fastenings) {
      if (f.kind == model::Fastening::Kind::flange_to_board) screwed_under_.insert({f.part, f.other});
    }
  }

  void threads() {
    for (std::size_t i = 0; i < frame_.joints.size(); ++i) {
      const model::Joint& joint = frame_.joints[i];
      const model::Port& port = frame_.part(joint.female).ports[at(joint.female_port)];
      Contact c = between(ContactKind::thread, joint.male, joint.female);
      c.joint = static_cast<int>(i);
      c.id = joint_name(frame_, c.joint);
      add_on_line(std::move(c), port.at, port.facing);
    }
  }

  void nuts() {
    for (std::size_t i = 0; i < frame_.parts.size(); ++i) {
      const model::Part& part = frame_.parts[i];
      const auto half = static_cast<PartId>(i);
      if (part.union_mate <= half) continue;  // none, or listed from the other half
      Contact c = between(ContactKind::nut, half, part.union_mate);
      c.id = part.label;
      add(std::move(c));
    }
  }

  void holes() {
    for (const model::Board& board : frame_.boards) {
      for (std::size_t h = 0; h < board.holes.size(); ++h) {
        const model::Hole& hole = board.holes[h];
        Contact c = of_board(hole.notch ? ContactKind::notch : ContactKind::hole, board, hole.pipe);
        c.hole = static_cast<int>(h);
        add_on_line(std::move(c), hole.centre, board.facing);
      }
    }
  }

  void rests() {
    for (const model::Board& board : frame_.boards) {
      if (!board.laid()) continue;
      if (is_on_loose_legs(board)) continue;
      for (const PartId carrier : board.carriers) add(of_board(ContactKind::rest, board, carrier));
    }
  }

  void fastenings() {
    for (std::size_t i = 0; i < frame_.fastenings.size(); ++i) {
      Contact c = between(ContactKind::fastening, frame_.fastenings[i].part, frame_.fastenings[i].other);
      c.fastening = static_cast<int>(i);
      c.id = fastening_name(frame_, c.fastening);
      add(std::move(c));
    }
  }

  [[nodiscard]] ContactList listed() && {
    list_.first_link.reserve(list_.at.size() + 1);
    list_.links.reserve(2 * list_.contacts.size());
    for (int v = 0; v < static_cast<int>(list_.at.size()); ++v) {
      list_.first_link.push_back(static_cast<int>(list_.links.size()));
      for (const ContactId c : list_.at[at(v)]) {
        list_.links.push_back({c, list_.other_vertex(c, v), hole_like(list_.contact(c).kind)});
      }
    }
    list_.first_link.push_back(static_cast<int>(list_.links.size()));
    return std::move(list_);
  }

 private:
  /// The board lies on flanges alone that are screwed to it, of two pieces or more that nothing else joins and the room
  /// does not hold: nobody lays it on loose legs, they are screwed to it as it lies.
  [[nodiscard]] bool is_on_loose_legs(const model::Board& board) const {
    const auto is_screwed = [&](PartId p) { return screwed_under_.contains({p, board.part}); };
    if (board.carriers.size() < 2 || !std::all_of(board.carriers.begin(), board.carriers.end(), is_screwed)) {
      return false;
    }
    const int room = static_cast<int>(frame_.parts.size());
    DisjointSets pieces(frame_.parts.size() + 1);
    for (const model::Fastening& f : frame_.fastenings) {
      if (f.part != board.part && f.other != board.part) pieces.join(f.part, f.other == model::kRoom ? room : f.other);
    }
    for (const model::Joint& joint : frame_.joints) pieces.join(joint.male, joint.female);
    for (int p = 0; p < room; ++p) {
      if (frame_.part(p).union_mate != model::kNone) pieces.join(p, frame_.part(p).union_mate);
    }
    const auto held = [&](PartId p) { return pieces.together(p, room); };
    const auto apart = [&](PartId p) { return !pieces.together(p, board.carriers.front()); };
    return std::none_of(board.carriers.begin(), board.carriers.end(), held) &&
           std::any_of(board.carriers.begin(), board.carriers.end(), apart);
  }

  static Contact between(ContactKind kind, PartId a, PartId b) {
    Contact c;
    c.kind = kind;
    c.a = a;
    c.b = b;
    return c;
  }

  [[nodiscard]] Contact of_board(ContactKind kind, const model::Board& board, PartId other) const {
    Contact c = between(kind, board.part, other);
    c.id = frame_.part(board.part).id + "/" + frame_.part(other).id;
    return c;
  }

  /// Contacts on one line in space share its number.
  void add_on_line(Contact c, const model::Vec3& on_axis, model::Direction axis) {
    c.on_axis = on_axis;
    c.axis = axis;
    c.line = lines_.find(c.on_axis, c.axis);
    if (c.line == model::kNone) {
      c.line = list_.lines++;
      lines_.add(c.on_axis, c.axis, c.line);
    }
    add(std::move(c));
  }

  void add(Contact c) {
    const auto id = static_cast<ContactId>(list_.contacts.size());
    list_.at[at(list_.vertex(c.a))].push_back(id);
    list_.at[at(list_.vertex(c.b))].push_back(id);
    list_.by_id.emplace(c.id, id);
    list_.contacts.push_back(std::move(c));
  }

  const model::Frame& frame_;
  std::set<std::pair<PartId, PartId>> screwed_under_;  ///< a flange and the board that it is screwed to
  ContactList list_;
  AxisLines lines_;
};

}  // namespace

const char* word_for(ContactKind kind) {
  switch (kind) {
    case ContactKind::thread: return "thread";
    case ContactKind::hole: return "hole";
    case ContactKind::notch: return "notch";
    case ContactKind::rest: return "rest";
    case ContactKind::fastening: return "fastening";
    case ContactKind::nut: return "nut";
  }
  return "";
}

ContactId ContactList::find(std::string_view id) const {
  const auto found = by_id.find(std::string(id));
  if (found != by_id.end()) return found->second;
  // A union's port may be written with the half's own name.
  for (const std::string_view half : {"~a.", "~b."}) {
    const auto at_half = id.find(half);
    if (at_half == std::string_view::npos) continue;
    std::string plain(id);
    plain.erase(at_half, 2);
    const auto again = by_id.find(plain);
    if (again != by_id.end()) return again->second;
  }
  return model::kNone;
}

ContactList contacts_of(const model::Frame& frame) {
  Listing listing(frame);
  listing.threads();
  listing.nuts();
  listing.holes();
  listing.rests();
  listing.fastenings();
  return std::move(listing).listed();
}

ContactList with_more_room(const ContactList& list, double by) {
  // How much wider than its pipe a hole is drilled at least where the file says nothing else: 1/32 in, less what the
  // tables round (common practice, no source).
  constexpr double kBitRoom = 25.4 / 32.0 - 0.01;
  ContactList other = list;
  other.touch += by;
  // A hole that is drilled as much wider than its pipe as bits are chosen by is no near miss.
  other.passing = std::min(list.passing - by, std::max(list.passing, kBitRoom));
  return other;
}

}  // namespace dryfit::planner
