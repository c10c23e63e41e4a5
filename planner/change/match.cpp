#include "planner/change/match.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <tuple>

#include "model/geometry/at.hpp"
#include "planner/change/board_work.hpp"
#include "planner/change/same_place.hpp"

namespace dryfit::planner {
namespace {

using model::kNone;
using model::kRoom;
using model::Vec3;

/// A port as seen from its part, for comparing pieces: everything but where it points.
struct PortMake {
  std::tuple<bool, bool, int> kind;  ///< male, threaded, size
  double out = 0.0;                  ///< from the part's centre, mm
};

PortMake port_make(const model::Part& part, const model::Port& port) {
  return {{port.male, port.threaded, port.size}, norm(port.at - part.centre)};
}

bool same_make(const PortMake& a, const PortMake& b) { return a.kind == b.kind && near(a.out, b.out); }

/// Ordered, so that the ports of two equal pieces come one against the other whatever way the pieces point. A rounded
/// distance would not do: it flips when a part moves.
std::vector<PortMake> port_makes(const model::Part& part) {
  std::vector<PortMake> makes;
  for (const model::Port& port : part.ports) makes.push_back(port_make(part, port));
  std::sort(makes.begin(), makes.end(),
            [](const PortMake& a, const PortMake& b) { return std::tie(a.kind, a.out) < std::tie(b.kind, b.out); });
  return makes;
}

std::array<double, 3> sorted_sizes(const model::Board& board) {
  const Vec3 s = board.hi - board.lo;
  std::array<double, 3> sizes{s.x, s.y, s.z};
  std::sort(sizes.begin(), sizes.end());
  return sizes;
}

const model::Board& board_of(const model::Frame& frame, PartId p) { return frame.board(frame.part(p).board); }

/// The part turned by `t` lies as the other does: every port of one is a port of the other.
bool lies_as(const model::Part& a, const model::Part& b, const QuarterTurn& t, const model::Frame& fa,
             const model::Frame& fb) {
  if (a.board != kNone) {
    const model::Board& p = fa.boards[dryfit::at(a.board)];
    const model::Board& q = fb.boards[dryfit::at(b.board)];
    const Vec3 size = t.of(p.hi - p.lo), other = q.hi - q.lo;
    return near({std::abs(size.x), std::abs(size.y), std::abs(size.z)}, other) &&
           near(t.of(p.facing.unit()), q.facing.unit());
  }
  for (const model::Port& port : a.ports) {
    const Vec3 at = t.of(port.at - a.centre);
    const bool found = std::any_of(b.ports.begin(), b.ports.end(), [&](const model::Port& other) {
      return same_make(port_make(a, port), port_make(b, other)) && near(at, other.at - b.centre);
    });
    if (!found) return false;
  }
  return true;
}

/// The contact's own port on a part, or nullptr.
const model::Port* port_at(const model::Frame& frame, const Contact& c, PartId p) {
  if (c.kind != ContactKind::thread) return nullptr;
  const model::Joint& j = frame.joint(c.joint);
  const model::Part& part = frame.part(p);
  return &part.ports[dryfit::at(j.male == p ? j.male_port : j.female_port)];
}

bool relation_kept(const model::Frame& of, const Contact& oc, const model::Frame& nf, const Contact& nc) {
  const model::Part& oa = of.part(oc.a);
  const model::Part& na = nf.part(nc.a);
  if (oc.b == kRoom) {
    // The room does not move: only what lies where it lay stays screwed to it.
    const QuarterTurn& still = quarter_turns().front();
    const model::Fastening& p = of.fastening(oc.fastening);
    const model::Fastening& q = nf.fastening(nc.fastening);
    const model::Surface& s = of.surface(p.surface);
    const model::Surface& t = nf.surface(q.surface);
    return p.kind == q.kind && p.count == q.count && s.normal == t.normal && near(s.at, t.at) &&
           near(oa.centre, na.centre) && lies_as(oa, na, still, of, nf);
  }
  const model::Part& ob = of.part(oc.b);
  const model::Part& nb = nf.part(nc.b);
  if (oc.kind == ContactKind::thread) {
    const model::Joint& p = of.joint(oc.joint);
    const model::Joint& q = nf.joint(nc.joint);
    if (!near(p.engaged, q.engaged) || !near(p.pitch, q.pitch)) return false;
  }
  if (oc.kind == ContactKind::fastening) {
    const model::Fastening& p = of.fastening(oc.fastening);
    const model::Fastening& q = nf.fastening(nc.fastening);
    if (p.kind != q.kind || p.count != q.count) return false;
  }
  return std::any_of(quarter_turns().begin(), quarter_turns().end(), [&](const QuarterTurn& t) {
    if (!lies_as(oa, na, t, of, nf) || !lies_as(ob, nb, t, of, nf)) return false;
    if (hole_like(oc.kind)) return true;  // the hole itself is compared apart
    if (!near(t.of(ob.centre - oa.centre), nb.centre - na.centre)) return false;
    const model::Port* op = port_at(of, oc, oc.a);
    return op == nullptr || near(t.of(op->at - oa.centre), port_at(nf, nc, nc.a)->at - na.centre);
  });
}

class Matcher {
 public:
  Matcher(const model::Frame& of, const ContactList& ol, const model::Frame& nf, const ContactList& nl)
      : of_(of), ol_(ol), nf_(nf), nl_(nl) {
    m_.new_of_old.assign(of.parts.size(), kNone);
    m_.old_of_new.assign(nf.parts.size(), kNone);
    m_.by.assign(of.parts.size(), MatchedBy::none);
  }

  Matching run(const std::map<std::string, std::string>& given) {
    for (const auto& [from, to] : given) {
      const PartId a = find(of_, from, "old"), b = find(nf_, to, "new");
      if (!same_piece(of_, a, nf_, b)) {
        throw std::invalid_argument(
            std::string("'").append(from).append("' and '").append(to).append("' are different pieces"));
      }
      pair(a, b, MatchedBy::given);
    }
    for (PartId p = 0; p < static_cast<PartId>(of_.parts.size()); ++p) {
      const PartId q = nf_.find(of_.part(p).id);
      if (free(p, q) && same_piece(of_, p, nf_, q)) pair(p, q, MatchedBy::id);
    }
    by_structure();
    by_place();
    by_structure();
    contacts();
    return std::move(m_);
  }

 private:
  static PartId find(const model::Frame& frame, const std::string& id, const char* which) {
    const PartId p = frame.find(id);
    if (p == kNone) throw std::invalid_argument("there is no part '" + id + "' in the " + which + " design");
    return p;
  }
  [[nodiscard]] bool free(PartId a, PartId b) const {
    return a != kNone && b != kNone && m_.new_of_old[dryfit::at(a)] == kNone && m_.old_of_new[dryfit::at(b)] == kNone;
  }
  void pair(PartId a, PartId b, MatchedBy by) {
    if (!free(a, b)) throw std::invalid_argument("'" + of_.part(a).id + "' is given twice");
    m_.new_of_old[dryfit::at(a)] = b;
    m_.old_of_new[dryfit::at(b)] = a;
    m_.by[dryfit::at(a)] = by;
    open_.push_back(a);
  }

  /// Spreads from matched parts to their neighbours: the same piece, by the same kind of contact, lying the same way.
  void by_structure() {
    for (std::size_t i = 0; i < open_.size(); ++i) {
      const PartId a = open_[i], b = m_.new_of_old[dryfit::at(a)];
      for (const ContactId c : ol_.at[dryfit::at(a)]) {
        const Contact& oc = ol_.contact(c);
        const PartId next = oc.a == a ? oc.b : oc.a;
        if (next == kRoom || m_.new_of_old[dryfit::at(next)] != kNone) continue;
        for (const ContactId d : nl_.at[dryfit::at(b)]) {
          const Contact& nc = nl_.contact(d);
          if (nc.kind != oc.kind || (nc.a == b) != (oc.a == a)) continue;
          const PartId other = nc.a == b ? nc.b : nc.a;
          if (other == kRoom || !free(next, other) || !same_piece(of_, next, nf_, other)) continue;
          if (nf_.find(of_.part(next).id) != kNone && of_.find(nf_.part(other).id) != kNone) continue;
          if (!relation_kept(of_, oc, nf_, nc)) continue;
          pair(next, other, MatchedBy::structure);
          break;
        }
      }
    }
  }

  /// Renamed parts with no matched neighbour: the same piece lying the same way in the same place.
  void by_place() {
    std::vector<PartId> places;  // by x, so that few have to be looked at
    for (PartId q = 0; q < static_cast<PartId>(nf_.parts.size()); ++q) {
      if (m_.old_of_new[dryfit::at(q)] == kNone) places.push_back(q);
    }
    const auto x_of = [&](PartId q) { return nf_.part(q).centre.x; };
    std::stable_sort(places.begin(), places.end(), [&](PartId a, PartId b) { return x_of(a) < x_of(b); });
    for (PartId p = 0; p < static_cast<PartId>(of_.parts.size()); ++p) {
      if (m_.new_of_old[dryfit::at(p)] != kNone) continue;
      const model::Part& part = of_.part(p);
      auto q = std::lower_bound(places.begin(), places.end(), part.centre.x - kOnePlace,
                                [&](PartId other, double x) { return x_of(other) < x; });
      for (; q != places.end() && x_of(*q) < part.centre.x + kOnePlace; ++q) {
        if (!lies_there(p, *q)) continue;
        pair(p, *q, MatchedBy::structure);
        break;
      }
    }
  }

  [[nodiscard]] bool lies_there(PartId p, PartId q) const {
    const model::Part& part = of_.part(p);
    const model::Part& other = nf_.part(q);
    return free(p, q) && near(part.centre, other.centre) && same_piece(of_, p, nf_, q) &&
           lies_as(part, other, quarter_turns().front(), of_, nf_) && nf_.find(part.id) == kNone &&
           of_.find(other.id) == kNone;
  }

  void contacts() {
    m_.kept_as.assign(ol_.contacts.size(), kNone);
    std::vector<char> off(of_.parts.size(), 0);
    for (const model::Board& board : of_.boards) {
      const PartId b = m_.new_of_old[dryfit::at(board.part)];
      if (b == kNone || !needs_new_hole(board, board_of(nf_, b))) continue;
      off[dryfit::at(board.part)] = 1;
      m_.redrilled.push_back(board.part);
    }
    // Contacts of the new design by kind and parts; several threads between two parts are told apart by the relation.
    std::map<std::tuple<ContactKind, PartId, PartId>, std::vector<ContactId>> by_parts;
    for (ContactId d = 0; d < static_cast<ContactId>(nl_.contacts.size()); ++d) {
      const Contact& nc = nl_.contact(d);
      by_parts[{nc.kind, nc.a, nc.b}].push_back(d);
    }
    for (std::size_t c = 0; c < ol_.contacts.size(); ++c) {
      const Contact& oc = ol_.contacts[c];
      const PartId a = m_.new_of_old[dryfit::at(oc.a)];
      const PartId b = oc.b == kRoom ? kRoom : m_.new_of_old[dryfit::at(oc.b)];
      if (a == kNone || (b == kNone && oc.b != kRoom)) continue;
      const bool hole = hole_like(oc.kind);
      if (hole && off[dryfit::at(oc.a)] != 0) continue;
      const auto found = by_parts.find({oc.kind, a, b});
      if (found == by_parts.end()) continue;
      for (const ContactId d : found->second) {
        const Contact& nc = nl_.contact(d);
        if (!relation_kept(of_, oc, nf_, nc)) continue;
        if (hole) {
          const model::Board& old_board = board_of(of_, oc.a);
          const model::Board& new_board = board_of(nf_, a);
          const model::Hole& known = old_board.holes[dryfit::at(oc.hole)];
          if (same_hole(old_board, known, new_board, as_it_lies(old_board, new_board)) != nc.hole) continue;
        }
        m_.kept_as[c] = d;
        break;
      }
    }
    std::vector<ContactId> may_stay;
    for (ContactId c = 0; c < static_cast<ContactId>(ol_.contacts.size()); ++c) {
      if (m_.kept_as[dryfit::at(c)] != kNone) may_stay.push_back(c);
    }
    let_turn(ol_, may_stay, m_);
  }

  const model::Frame& of_;
  const ContactList& ol_;
  const model::Frame& nf_;
  const ContactList& nl_;
  Matching m_;
  std::vector<PartId> open_;
};

}  // namespace

bool same_piece(const model::Frame& old_frame, PartId a, const model::Frame& new_frame, PartId b) {
  const model::Part& p = old_frame.part(a);
  const model::Part& q = new_frame.part(b);
  if (p.kind != q.kind || old_frame.standard != new_frame.standard) return false;
  if (p.board != kNone) {
    const model::Board& x = board_of(old_frame, a);
    const model::Board& y = board_of(new_frame, b);
    const auto s = sorted_sizes(x), t = sorted_sizes(y);
    return x.stock == y.stock && near(s[0], t[0]) && near(s[1], t[1]) && near(s[2], t[2]);
  }
  if (p.size != q.size || !near(p.length, q.length) || p.ports.size() != q.ports.size()) return false;
  const std::vector<PortMake> s = port_makes(p), t = port_makes(q);
  return std::equal(s.begin(), s.end(), t.begin(), same_make);
}

void let_turn(const ContactList& old_list, const std::vector<ContactId>& kept, Matching& matching) {
  matching.may_turn.assign(matching.new_of_old.size(), 1);
  for (const ContactId c : kept) {
    matching.may_turn[dryfit::at(old_list.contact(c).a)] = 0;
    if (old_list.contact(c).b != kRoom) matching.may_turn[dryfit::at(old_list.contact(c).b)] = 0;
  }
}

Matching match_designs(const model::Frame& old_frame, const ContactList& old_list, const model::Frame& new_frame,
                       const ContactList& new_list, const std::map<std::string, std::string>& given) {
  return Matcher(old_frame, old_list, new_frame, new_list).run(given);
}

}  // namespace dryfit::planner
