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

const model::Part& part_of(const model::Frame& frame, PartId p) { return frame.part(p); }

/// A port as seen from its part, for comparing pieces: everything but where it points.
std::tuple<bool, bool, int, long> port_make(const model::Part& part, const model::Port& port) {
  return {port.male, port.threaded, port.size, std::lround(norm(port.at - part.centre) / kOnePlace / 2)};
}

std::array<double, 3> sorted_sizes(const model::Board& board) {
  const Vec3 s = board.hi - board.lo;
  std::array<double, 3> sizes{s.x, s.y, s.z};
  std::sort(sizes.begin(), sizes.end());
  return sizes;
}

const model::Board& board_of(const model::Frame& frame, PartId p) {
  return frame.board(part_of(frame, p).board);
}

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
      return port_make(a, port) == port_make(b, other) && near(at, other.at - b.centre);
    });
    if (!found) return false;
  }
  return true;
}

/// The contact's own port on a part, or nullptr.
const model::Port* port_at(const model::Frame& frame, const Contact& c, PartId p) {
  if (c.kind != ContactKind::thread) return nullptr;
  const model::Joint& j = frame.joint(c.joint);
  const model::Part& part = part_of(frame, p);
  return &part.ports[dryfit::at(j.male == p ? j.male_port : j.female_port)];
}

bool relation_kept(const model::Frame& of, const Contact& oc, const model::Frame& nf, const Contact& nc) {
  const model::Part& oa = part_of(of, oc.a);
  const model::Part& na = part_of(nf, nc.a);
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
  const model::Part& ob = part_of(of, oc.b);
  const model::Part& nb = part_of(nf, nc.b);
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
    if (oc.kind == ContactKind::hole || oc.kind == ContactKind::notch)
      return true;  // the hole itself is compared apart
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
      const PartId q = nf_.find(part_of(of_, p).id);
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
    return a != kNone && b != kNone && m_.new_of_old[dryfit::at(a)] == kNone &&
           m_.old_of_new[dryfit::at(b)] == kNone;
  }
  void pair(PartId a, PartId b, MatchedBy by) {
    if (!free(a, b)) throw std::invalid_argument("'" + part_of(of_, a).id + "' is given twice");
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
          if (nf_.find(part_of(of_, next).id) != kNone && of_.find(part_of(nf_, other).id) != kNone) continue;
          if (!relation_kept(of_, oc, nf_, nc)) continue;
          pair(next, other, MatchedBy::structure);
          break;
        }
      }
    }
  }

  /// Renamed parts with no matched neighbour: the same piece lying the same way in the same place.
  void by_place() {
    const auto cell = [](Vec3 v) { return std::tuple{std::lround(v.x), std::lround(v.y), std::lround(v.z)}; };
    std::map<std::tuple<long, long, long>, std::vector<PartId>> places;
    for (PartId q = 0; q < static_cast<PartId>(nf_.parts.size()); ++q) {
      if (m_.old_of_new[dryfit::at(q)] == kNone) places[cell(part_of(nf_, q).centre)].push_back(q);
    }
    for (PartId p = 0; p < static_cast<PartId>(of_.parts.size()); ++p) {
      const model::Part& part = part_of(of_, p);
      const auto found = places.find(cell(part.centre));
      if (found == places.end() || m_.new_of_old[dryfit::at(p)] != kNone) continue;
      for (const PartId q : found->second) {
        const model::Part& other = part_of(nf_, q);
        if (!free(p, q) || !near(part.centre, other.centre) || !same_piece(of_, p, nf_, q)) continue;
        if (!lies_as(part, other, quarter_turns().front(), of_, nf_)) continue;
        if (nf_.find(part.id) != kNone || of_.find(other.id) != kNone) continue;
        pair(p, q, MatchedBy::structure);
        break;
      }
    }
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
      const bool hole = oc.kind == ContactKind::hole || oc.kind == ContactKind::notch;
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
    m_.may_turn.assign(of_.parts.size(), 1);
    for (std::size_t c = 0; c < ol_.contacts.size(); ++c) {
      if (m_.kept_as[c] == kNone) continue;
      m_.may_turn[dryfit::at(ol_.contacts[c].a)] = 0;
      if (ol_.contacts[c].b != kRoom) m_.may_turn[dryfit::at(ol_.contacts[c].b)] = 0;
    }
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
  const model::Part& p = part_of(old_frame, a);
  const model::Part& q = part_of(new_frame, b);
  if (p.kind != q.kind || old_frame.standard != new_frame.standard) return false;
  if (p.board != kNone) {
    const model::Board& x = board_of(old_frame, a);
    const model::Board& y = board_of(new_frame, b);
    const auto s = sorted_sizes(x), t = sorted_sizes(y);
    return x.stock == y.stock && near(s[0], t[0]) && near(s[1], t[1]) && near(s[2], t[2]);
  }
  if (p.size != q.size || !near(p.length, q.length) || p.ports.size() != q.ports.size()) return false;
  std::vector<std::tuple<bool, bool, int, long>> s, t;
  for (const model::Port& port : p.ports) s.push_back(port_make(p, port));
  for (const model::Port& port : q.ports) t.push_back(port_make(q, port));
  std::sort(s.begin(), s.end());
  std::sort(t.begin(), t.end());
  return s == t;
}

Matching match_designs(const model::Frame& old_frame, const ContactList& old_list, const model::Frame& new_frame,
                       const ContactList& new_list, const std::map<std::string, std::string>& given) {
  return Matcher(old_frame, old_list, new_frame, new_list).run(given);
}

}  // namespace dryfit::planner
