/// Undo move "slide apart": a piece leaves along the holes that it shares with others. Forward: slide or pass.
#include <algorithm>
#include <limits>
#include <unordered_set>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/moves_impl.hpp"

namespace dryfit::planner {

using model::Direction;
using model::kNone;
using model::Vec3;

/// One piece K and one direction d.
struct SlideCase {
  Undoer::Impl& impl;
  const State& state;
  const Direction d;
  const Without without;
  std::vector<int> k;  ///< vertices of K
  bool k_has_room = false;
  bool cluster_has_room = false;
  std::vector<ContactId> left_out;  ///< between K and R
  std::vector<int> r_ends;          ///< their vertices on R's side
  double travel = 0.0;
  std::unordered_map<int, bool> in_r_known;

  bool in_cluster(int v) { return state.cluster(v) == state.cluster(k.front()); }

  /// R: the pieces joined to K by the left-out contacts, and the room's.
  bool in_r(int v) {
    if (impl.marked(v) || !in_cluster(v)) return false;
    const auto found = in_r_known.find(v);
    if (found != in_r_known.end()) return found->second;
    const bool yes = impl.explorer.path(
        state, v, without, [this](int at) { return is_r_end(at); }, nullptr);
    in_r_known.emplace(v, yes);
    return yes;
  }
  [[nodiscard]] bool is_r_end(int v) const {
    return std::find(r_ends.begin(), r_ends.end(), v) != r_ends.end() ||
           (cluster_has_room && !k_has_room && v == impl.list.room());
  }

  /// Why v is in K or R: the way to the end that was asked for, or to an end of a left-out contact or the room.
  void hold(int v, std::vector<ContactId>& held) {
    if (impl.marked(v)) {
      impl.way(state, v, k.front(), without, held);
      return;
    }
    impl.explorer.path(
        state, v, without, [this](int at) { return is_r_end(at); }, &held);
    hold_cluster(held);
  }
  void hold_cluster(std::vector<ContactId>& held) {
    if (cluster_has_room) impl.way(state, k.front(), impl.list.room(), {}, held);
  }

  Refusal refuse(Refusal::Why why, PartId moving, PartId blocking) {
    Refusal r;
    r.kind = MoveKind::slide;
    r.why = why;
    r.moving = moving;
    r.blocking = blocking;
    // What goes along sets how far K has to go: it stays so while the ends of all that hang on the one asked for.
    r.held_by = left_out;
    for (const ContactId c : left_out) {
      const int a = impl.list.vertex(impl.contact(c).a);
      impl.way(state, k.front(), impl.marked(a) ? a : impl.list.vertex(impl.contact(c).b), without, r.held_by);
    }
    return r;
  }

  /// All vertices of R, and of the pieces that its boards and pipes carry along, unless they weigh more than `limit`
  /// kg: then false. Only where R does not hold the room. The first `r_size` vertices are R's own.
  bool collect_r(double limit, std::vector<int>& vertices, std::size_t& r_size) {
    std::unordered_set<int> seen;
    double mass = 0.0;
    const auto take_piece = [&](int end) {
      return !seen.contains(end) && impl.explorer.path(
                                        state, end, without,
                                        [&](int at) {
                                          seen.insert(at);
                                          vertices.push_back(at);
                                          mass += impl.part(at).mass;
                                          return mass > limit;
                                        },
                                        nullptr);
    };
    for (const int end : r_ends) {
      if (take_piece(end)) return false;
    }
    r_size = vertices.size();
    for (std::size_t i = 0; i < vertices.size(); ++i) {
      const int v = vertices[i];
      for (const ContactId h : impl.contacts_at(v)) {
        const Contact& hole = impl.contact(h);
        if (!state.made(h) || !Undoer::Impl::hole_like(hole) || !parallel(hole.axis, d)) continue;
        const int other = impl.other_vertex(h, v);
        if (!impl.marked(other) && take_piece(other)) return false;
      }
    }
    return true;
  }

  /// Bodies on the line of a left-out hole that have to pass it must be narrower than it.
  std::optional<Refusal> too_wide() {
    const Vec3 unit = d.unit();
    const int n = d.axis();
    for (const ContactId c : left_out) {
      const Contact& contact = impl.contact(c);
      const model::Board& b = impl.board(contact.a);
      const double hole = b.holes[dryfit::at(contact.hole)].diameter;
      const double lo = unit[n] > 0 ? b.lo[n] : -b.hi[n], hi = unit[n] > 0 ? b.hi[n] : -b.lo[n];
      const bool board_in_k = impl.marked(impl.list.vertex(contact.a));
      const double from = board_in_k ? lo : lo - travel, to = board_in_k ? hi + travel : hi;
      for (const int i : impl.index.on_line(contact.line)) {
        const Body& body = impl.index.bodies()[dryfit::at(i)];
        const double p = dot(body.solid.a, unit), q = dot(body.solid.b, unit);
        if (std::min(p, q) >= to - model::kTouch || std::max(p, q) <= from + model::kTouch) continue;
        if (2.0 * body.solid.radius <= hole - model::kTouch) continue;
        if (impl.lifted_off(contact.a, i, board_in_k ? unit : -unit)) continue;
        if (board_in_k ? !in_r(body.part) : !impl.marked(body.part)) continue;
        Refusal r = refuse(Refusal::Why::too_wide, contact.a, body.part);
        r.wanted = 2.0 * body.solid.radius;
        r.given = hole;
        hold(body.part, r.held_by);
        hold(contact.a, r.held_by);
        return r;
      }
    }
    return std::nullopt;
  }

  [[nodiscard]] bool exempt(PartId board_part, int body) const {
    const int line = impl.index.line_of(body);
    if (line == kNone) return false;
    return std::any_of(left_out.begin(), left_out.end(),
                       [&](ContactId c) { return impl.contact(c).a == board_part && impl.contact(c).line == line; });
  }

  /// Pairs that only part from each other on this way: a pipe drawn straight out of the fitting that it was unscrewed
  /// from, and a board lifted off a carrier that stands a little high (the closure of the two says by how much).
  [[nodiscard]] bool parting(int body_a, PartId a, int body_b, PartId b, Vec3 sweep) const {
    return impl.drawn_apart(a, b, sweep) || impl.lifted_off(a, body_b, sweep) || impl.lifted_off(b, body_a, -sweep);
  }

  /// The first pair of K and R that would hit; `vertices` is the side that is walked through, moved by `sweep`.
  std::optional<Refusal> first_hit(const std::vector<int>& vertices, Vec3 sweep,
                                   const std::function<bool(int)>& on_other_side) {
    std::vector<int> candidates;
    for (const int v : vertices) {
      if (v == impl.list.room()) continue;
      for (int i = impl.index.first(v); i < impl.index.last(v); ++i) {
        const Body& body = impl.index.bodies()[dryfit::at(i)];
        impl.index.find(model::swept_bounds(body.solid, sweep), candidates);
        for (const int j : candidates) {
          const Body& other = impl.index.bodies()[dryfit::at(j)];
          if (other.part == v || !in_cluster(other.part)) continue;
          if (impl.is_board(v) && exempt(v, j)) continue;
          if (impl.is_board(other.part) && exempt(other.part, i)) continue;
          ++impl.work.clearance_tests;
          if (!model::hits(body.thing(), other.thing(), sweep, impl.touch(v, other.part))) continue;
          if (parting(i, v, j, other.part, sweep)) continue;
          if (!on_other_side(other.part)) continue;
          Refusal r = refuse(Refusal::Why::hits_part, v, other.part);
          hold(v, r.held_by);
          hold(other.part, r.held_by);
          return r;
        }
      }
    }
    return std::nullopt;
  }

  std::optional<Refusal> first_surface(const std::vector<int>& vertices, Vec3 sweep) {
    const auto found = impl.first_in_surface(
        vertices, [&](const model::Solid& solid, Vec3 in) { return Undoer::Impl::swept_reach(solid, sweep, in); });
    if (!found) return std::nullopt;
    Refusal r = refuse(Refusal::Why::hits_surface, found->first, kNone);
    r.surface = found->second;
    hold(found->first, r.held_by);
    hold_cluster(r.held_by);
    return r;
  }
};

void Undoer::Impl::slide(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen,
                         Attempt& attempt, std::vector<Move>* every_way) {
  const Contact& asked = contact(c);
  std::optional<Move> best;
  // Mass of the lightest K that has turned out to go. What moves when the other side's K is asked is that K or an R
  // that has this one in it, so a heavier K need not be walked to its end.
  double lightest = std::numeric_limits<double>::infinity();
  for (const int seed : {list.vertex(asked.a), list.vertex(asked.b)}) {
    // K is the same both ways.
    const Without without{kNone, kNone, asked.axis, kNone, kNone};
    std::vector<int> k;
    double k_mass = 0.0;
    bool too_many = false, too_heavy = false;
    explorer.path(
        state, seed, without,
        [&](int v) {
          k.push_back(v);
          if (v != list.room()) k_mass += part(v).mass;
          too_many = k.size() > cap;
          too_heavy = every_way == nullptr && k_mass > lightest;
          return too_many || too_heavy;
        },
        nullptr);
    if (too_heavy) continue;
    if (too_many) {
      attempt.capped = true;
      continue;
    }
    for (const Direction d : {asked.axis, -asked.axis}) {
      SlideCase s{*this, state, d, Without{kNone, kNone, d, kNone, kNone}, k, false, false, {}, {}, 0.0, {}};
      mark(s.k);
      s.k_has_room = marked(list.room());
      s.cluster_has_room = state.holds_room(seed);
      ContactId kept = kNone;
      for (const int v : s.k) {
        if (v == list.room()) continue;
        for (const ContactId h : contacts_at(v)) {
          const Contact& hole = contact(h);
          if (!state.made(h) || !hole_like(hole) || !parallel(hole.axis, d)) continue;
          const int other = other_vertex(h, v);
          if (marked(other)) continue;
          s.left_out.push_back(h);
          s.r_ends.push_back(other);
          if (kept == kNone && frozen != nullptr && (*frozen)[dryfit::at(h)] != 0) kept = h;
        }
      }
      std::sort(s.left_out.begin(), s.left_out.end());
      if (!std::binary_search(s.left_out.begin(), s.left_out.end(), c)) {
        // Board and pipe are one piece by other contacts too: neither can leave the other.
        Refusal r;
        r.kind = MoveKind::slide;
        r.why = Refusal::Why::ring;
        way(state, list.vertex(asked.a), list.vertex(asked.b), s.without, r.held_by);
        attempt.refusals.push_back(std::move(r));
        continue;
      }
      if (kept != kNone) {
        // It would go along as long as it hangs on K.
        Refusal r = keeps(kept);
        const int end = list.vertex(contact(kept).a);
        way(state, seed, marked(end) ? end : list.vertex(contact(kept).b), s.without, r.held_by);
        attempt.refusals.push_back(std::move(r));
        continue;
      }
      const Vec3 unit = d.unit();
      const int n = d.axis();
      for (const ContactId h : s.left_out) {
        const Contact& hole = contact(h);
        const model::Board& b = board(hole.a);
        double tip_ahead = -std::numeric_limits<double>::infinity(), tip_behind = -tip_ahead;
        for (int i = index.first(hole.b); i < index.last(hole.b); ++i) {
          const model::Solid& pipe = index.bodies()[dryfit::at(i)].solid;
          tip_ahead = std::max(tip_ahead, reach_along(pipe, unit));
          tip_behind = std::min(tip_behind, -reach_along(pipe, -unit));
        }
        const double lo = unit[n] > 0 ? b.lo[n] : -b.hi[n], hi = unit[n] > 0 ? b.hi[n] : -b.lo[n];
        s.travel = std::max(s.travel, marked(list.vertex(hole.a)) ? tip_ahead - lo : hi - tip_behind);
      }
      std::optional<Refusal> refusal = s.too_wide();
      if (!refusal) {
        refusal = s.first_hit(s.k, unit * s.travel, [&](int v) { return s.in_r(v); });
      }
      // K moves unless it holds the room. With the room in the cluster R holds it otherwise, and K alone may move.
      std::vector<int> r_vertices;
      std::size_t r_size = 0;
      bool r_moves = s.k_has_room;
      if (!refusal && !(s.cluster_has_room && !s.k_has_room)) {
        // R is walked only as far as it takes to know that it is the heavier side.
        r_moves =
            s.collect_r(s.k_has_room ? std::numeric_limits<double>::infinity() : k_mass - 1e-9, r_vertices, r_size);
      }
      const std::vector<int>& mover = r_moves ? r_vertices : s.k;
      const Vec3 sweep = unit * (r_moves ? -s.travel : s.travel);
      if (!refusal && s.cluster_has_room) {
        refusal = s.first_surface(
            r_moves ? std::vector<int>(r_vertices.begin(), r_vertices.begin() + static_cast<std::ptrdiff_t>(r_size))
                    : s.k,
            sweep);
      }
      if (refusal) {
        attempt.refusals.push_back(std::move(*refusal));
        continue;
      }
      Move move;
      move.kind = MoveKind::slide;
      move.contacts = s.left_out;
      std::iter_swap(move.contacts.begin(), std::find(move.contacts.begin(), move.contacts.end(), c));
      std::sort(move.contacts.begin() + 1, move.contacts.end());
      move.travel = sweep;
      finish(state, move, mover);
      if (every_way != nullptr) every_way->push_back(move);
      if (!r_moves) lightest = std::min(lightest, move.mass);
      if (!best || move.mass < best->mass - 1e-9) best = std::move(move);
    }
  }
  if (best) {
    attempt.legal = true;
    attempt.move = std::move(*best);
  }
}

}  // namespace dryfit::planner
