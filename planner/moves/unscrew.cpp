/// Undo move "unscrew": one side of a thread turns out of the other.
#include <algorithm>
#include <cmath>
#include <limits>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/moves_impl.hpp"

namespace dryfit::planner {

using model::Axis;
using model::Direction;
using model::kNone;
using model::Vec3;

namespace {

/// Bounds of everything that the solid sweeps in a full turn and a shift along the axis.
model::Bounds turned_bounds(const model::Solid& solid, const Axis& axis, double shift) {
  const model::ZRange z = extent_along(solid, axis);
  const double r = swing_radius(solid, axis);
  const Vec3 a = axis.along.unit();
  const double z0 = z.lo + std::min(0.0, shift), z1 = z.hi + std::max(0.0, shift);
  model::Bounds box;
  for (int i = 0; i < 3; ++i) {
    const double spread = r * std::sqrt(std::max(0.0, 1.0 - a[i] * a[i]));
    box.lo[i] = axis.point[i] + std::min(z0 * a[i], z1 * a[i]) - spread;
    box.hi[i] = axis.point[i] + std::max(z0 * a[i], z1 * a[i]) + spread;
  }
  return box;
}

}  // namespace

/// One call of unscrew: what was found out about the pieces so far.
struct UnscrewCase {
  enum class Piece { small, big, room, other };

  Undoer::Impl& impl;
  const State& state;
  const ContactId c;
  const Contact& contact;
  const model::Joint& joint;
  const Without without;
  const Axis axis;
  bool line_has_holes = false;  ///< made holes or notches on the axis: there may be pieces besides S and O
  bool cluster_has_room = false;
  int small_end = 0, big_end = 0;  ///< vertices of the joint
  Piece room = Piece::other;       ///< where the room is; `room`: a third piece
  std::unordered_map<int, Piece> known;
  std::vector<int> big_piece;  ///< sorted, once it has been walked whole

  /// The piece of a vertex that is in the same cluster. O(1) when nothing but the thread was left out.
  Piece piece_of(int v) {
    if (impl.marked(v)) return Piece::small;
    if (state.cluster(v) != state.cluster(small_end)) return Piece::other;
    if (!line_has_holes) return Piece::big;
    const auto found = known.find(v);
    if (found != known.end()) return found->second;
    bool in_big = false;
    if (big_piece.empty()) {
      Explorer::Split split = impl.explorer.split(state, v, big_end, without, Undoer::kNoCap);
      in_big = split.joined;
      if (!split.joined && !split.small_has_first) {  // walked whole by the way: no need to ask again
        big_piece = std::move(split.small);
        std::sort(big_piece.begin(), big_piece.end());
      }
    } else {
      in_big = std::binary_search(big_piece.begin(), big_piece.end(), v);
    }
    Piece piece = Piece::other;
    if (!in_big) {
      if (room == Piece::room && impl.explorer.split(state, v, impl.list.room(), without, Undoer::kNoCap).joined) {
        piece = Piece::room;
      }
    } else {
      piece = Piece::big;
    }
    known.emplace(v, piece);
    return piece;
  }

  /// Why `v` belongs to its piece: the contacts between it and the joint's end (or the room).
  void hold(int v, std::vector<ContactId>& held) {
    switch (piece_of(v)) {
      case Piece::small: impl.way(state, v, small_end, without, held); break;
      case Piece::big: impl.way(state, v, big_end, without, held); break;
      case Piece::room:
        impl.way(state, v, impl.list.room(), without, held);
        hold_room(held);
        break;
      case Piece::other: break;
    }
  }
  void hold_room(std::vector<ContactId>& held) { impl.way(state, small_end, impl.list.room(), {}, held); }

  [[nodiscard]] Direction leaves(Piece mover) const {
    const bool pipe_side = (mover == Piece::small) == (small_end == impl.list.vertex(contact.a));
    return pipe_side ? contact.axis : -contact.axis;
  }
  [[nodiscard]] int end_of(Piece mover) const { return mover == Piece::small ? small_end : big_end; }
  [[nodiscard]] double shift(Piece mover) const {
    return leaves(mover) == contact.axis ? joint.engaged : -joint.engaged;
  }

  Refusal refuse(Piece mover, Refusal::Why why, PartId moving, PartId blocking) {
    Refusal r;
    r.kind = MoveKind::unscrew;
    r.why = why;
    r.moving = moving;
    r.blocking = blocking;
    r.turning = end_of(mover);
    return r;
  }

  /// Pairs that no test counts: the joint's own two parts, and a board with a hole on the axis against what lies there.
  [[nodiscard]] bool exempt(int body_a, PartId a, int body_b, PartId b) const {
    if ((a == contact.a && b == contact.b) || (a == contact.b && b == contact.a)) return true;
    if (impl.is_board(a) && impl.on_hole_line(a, body_b, contact.line)) return true;
    return impl.is_board(b) && impl.on_hole_line(b, body_a, contact.line);
  }

  /// The first hit of the vertices, turning as `mover`, against pieces for which `against` holds.
  std::optional<Refusal> first_hit(Piece mover, const std::vector<int>& vertices,
                                   const std::function<bool(Piece)>& against) {
    const double way_out = shift(mover);
    for (const int v : vertices) {
      if (v == impl.list.room()) continue;
      for (int i = impl.index.first(v); i < impl.index.last(v); ++i) {
        const model::Solid& solid = impl.index.bodies()[at(i)].solid;
        std::vector<int> candidates;
        impl.index.find(turned_bounds(solid, axis, way_out), candidates);
        for (const int k : candidates) {
          const Body& other = impl.index.bodies()[at(k)];
          if (other.part == v || state.cluster(other.part) != state.cluster(small_end)) continue;
          if (mover == Piece::small && impl.marked(other.part)) continue;
          if (exempt(i, v, k, other.part)) continue;
          ++impl.work.clearance_tests;
          if (!turn_hits(solid, other.solid, axis, way_out, impl.touch(v, other.part))) continue;
          if (!against(piece_of(other.part))) continue;
          Refusal r = refuse(mover, Refusal::Why::hits_part, v, other.part);
          hold(v, r.held_by);
          hold(other.part, r.held_by);
          return r;
        }
      }
    }
    return std::nullopt;
  }

  std::optional<Refusal> first_surface(Piece mover, const std::vector<int>& vertices) {
    const auto found = impl.first_in_surface(
        vertices, [&](const model::Solid& solid, Vec3 in) { return turn_reach(solid, axis, shift(mover), in); });
    if (!found) return std::nullopt;
    Refusal r = refuse(mover, Refusal::Why::hits_surface, found->first, kNone);
    r.surface = found->second;
    hold(found->first, r.held_by);
    hold_room(r.held_by);
    return r;
  }

  std::optional<Refusal> loose_board(Piece mover, const std::vector<int>& vertices) {
    if (contact.axis.axis() == 2) return std::nullopt;
    for (const int v : vertices) {
      if (v == impl.list.room() || !impl.is_board(v) || !impl.board(v).laid()) continue;
      if (!impl.fastenings_of_board[at(v)].empty()) continue;
      for (const ContactId k : impl.contacts_at(v)) {
        if (!state.made(k) || impl.contact(k).kind != ContactKind::rest || impl.contact(k).a != v) continue;
        Refusal r = refuse(mover, Refusal::Why::loose_board, v, kNone);
        hold(v, r.held_by);
        return r;
      }
    }
    return std::nullopt;
  }

  /// Float: every board on the axis between mover and the rest must be able to give way by the engaged length.
  std::optional<Refusal> float_stops(Piece mover) {
    for (const HoleOnLine& h : impl.index.holes_on(contact.line)) {
      const PartId pipe = impl.contact(h.contact).b;
      if (state.cluster(h.board) != state.cluster(small_end) || state.cluster(pipe) != state.cluster(small_end))
        continue;
      // Where neither or both turn with the smaller side there is nothing to ask; finding the piece costs far more.
      if (mover == Piece::small && impl.marked(h.board) == impl.marked(pipe)) continue;
      const Piece board_in = piece_of(h.board), pipe_in = piece_of(pipe);
      const auto still = [&](Piece p) { return p != mover && p != Piece::other; };
      const bool board_stays = still(board_in) && pipe_in == mover;
      const bool board_moves = board_in == mover && still(pipe_in);
      if (!board_stays && !board_moves) continue;
      const ContactId fastening = impl.made_fastening(state, h.board);
      std::vector<ContactId> others;
      for (const ContactId k : impl.contacts_at(h.board)) {
        if (state.made(k) && Undoer::Impl::hole_like(impl.contact(k)) && impl.contact(k).a == h.board &&
            impl.contact(k).line != contact.line) {
          others.push_back(k);
        }
      }
      if (fastening == kNone && others.empty()) continue;  // not held at all
      // Away from the mover's way on the mover's pipe, with it on the others (the other way round for a board of S).
      const Direction v = board_stays ? leaves(mover) : -leaves(mover);
      const double wanted = joint.engaged;
      const auto piece_test = [&](Piece piece) {
        return [this, piece](PartId p) { return state.cluster(p) == state.cluster(small_end) && piece_of(p) == piece; };
      };
      const model::Hole& hole = impl.board(h.board).holes[at(h.hole)];
      const Undoer::Impl::Play here = impl.play_along(state, h.board, contact.line, hole.diameter, -v,
                                                      wanted + model::kTouch, contact.axis, piece_test(pipe_in));
      Undoer::Impl::Play there{wanted + model::kTouch, kNone};
      ContactId binding = kNone;
      if (fastening != kNone) {
        there.play = 0.0;
      } else {
        for (const ContactId k : others) {
          const Piece in = piece_of(impl.contact(k).b);
          if (board_stays ? !still(in) : in != mover) continue;
          const model::Hole& other = impl.board(h.board).holes[at(impl.contact(k).hole)];
          const Undoer::Impl::Play play = impl.play_along(state, h.board, impl.contact(k).line, other.diameter, v,
                                                          wanted + model::kTouch, contact.axis, piece_test(in));
          if (play.play < there.play) {
            there = play;
            binding = k;
          }
        }
      }
      if (wanted <= here.play + there.play + model::kTouch) continue;
      Refusal r = refuse(mover, Refusal::Why::board_in_the_way, h.board, here.stop != kNone ? here.stop : there.stop);
      r.wanted = wanted;
      r.given = here.play + there.play;
      hold(h.board, r.held_by);
      hold(pipe, r.held_by);
      for (const PartId stop : {here.stop, there.stop}) {
        if (stop == kNone) continue;
        hold(stop, r.held_by);
        if (impl.is_board(stop)) {  // a stop only while something other than parallel holes holds it
          for (const ContactId k : impl.contacts_at(stop)) {
            if (state.made(k) && !(Undoer::Impl::hole_like(impl.contact(k)))) r.held_by.push_back(k);
          }
        }
      }
      if (fastening != kNone) r.held_by.push_back(fastening);
      if (binding != kNone) {
        r.held_by.push_back(binding);
        hold(impl.contact(binding).b, r.held_by);
      }
      return r;
    }
    return std::nullopt;
  }
};

void Undoer::Impl::unscrew(const State& state, ContactId c, std::size_t cap, Attempt& attempt) {
  using Piece = UnscrewCase::Piece;
  const Contact& k = contact(c);
  UnscrewCase u{*this,
                state,
                c,
                k,
                frame.joint(k.joint),
                Without{c, k.line, {}, kNone, kNone},
                Axis{k.on_axis, k.axis},
                false,
                false,
                0,
                0,
                Piece::other,
                {},
                {}};
  const int male = list.vertex(k.a), female = list.vertex(k.b);
  Explorer::Split split = explorer.split(state, male, female, u.without, cap);
  if (split.capped) {
    attempt.capped = true;
    return;
  }
  if (split.joined) {
    Refusal r;
    r.kind = MoveKind::unscrew;
    r.why = Refusal::Why::ring;
    r.held_by = std::move(split.path);
    attempt.refusals.push_back(std::move(r));
    return;
  }
  const std::vector<int> small = std::move(split.small);
  u.small_end = split.small_has_first ? male : female;
  u.big_end = split.small_has_first ? female : male;
  mark(small);
  for (const HoleOnLine& h : index.holes_on(k.line)) u.line_has_holes |= state.made(h.contact);
  u.cluster_has_room = state.holds_room(male);
  if (u.cluster_has_room) {
    if (marked(list.room())) {
      u.room = Piece::small;
    } else if (!u.line_has_holes || explorer.split(state, list.room(), u.big_end, u.without, kNoCap).joined) {
      u.room = Piece::big;
    } else {
      u.room = Piece::room;
    }
  }

  // Turning one side or the other sweeps the same between S and O, so that pair is tested once, on the smaller side.
  const std::optional<Refusal> between = u.first_hit(Piece::small, small, [](Piece p) { return p == Piece::big; });
  std::vector<int> big;
  const auto big_vertices = [&]() -> const std::vector<int>& {
    if (big.empty()) {
      big = explorer.piece(state, u.big_end, u.without, kNoCap);
    }
    return big;
  };
  const auto decide = [&](Piece mover) -> bool {
    Refusal room_side = u.refuse(mover, Refusal::Why::holds_room, u.end_of(mover), kNone);
    if (u.room == mover) {
      way(state, u.end_of(mover), list.room(), u.without, room_side.held_by);
      attempt.refusals.push_back(std::move(room_side));
      return false;
    }
    if (between) {
      Refusal r = *between;
      if (mover == Piece::big) std::swap(r.moving, r.blocking);
      r.turning = u.end_of(mover);
      attempt.refusals.push_back(std::move(r));
      return false;
    }
    const std::vector<int>& vertices = mover == Piece::small ? small : big_vertices();
    std::optional<Refusal> refusal = u.loose_board(mover, vertices);
    if (!refusal) refusal = u.float_stops(mover);
    if (!refusal && u.cluster_has_room) refusal = u.first_surface(mover, vertices);
    if (!refusal && u.room == Piece::room) {
      refusal = u.first_hit(mover, vertices, [](Piece p) { return p == Piece::room; });
    }
    if (refusal) attempt.refusals.push_back(std::move(*refusal));
    return !refusal;
  };
  const auto swing_of = [&](const std::vector<int>& vertices) {
    double r = 0.0;
    for (const int v : vertices) {
      if (v == list.room()) continue;
      for (int i = index.first(v); i < index.last(v); ++i) {
        r = std::max(r, swing_radius(index.bodies()[at(i)].solid, u.axis));
      }
    }
    return r;
  };

  const bool small_turns = decide(Piece::small);
  Piece mover = Piece::small;
  double radius = small_turns ? swing_of(small) : 0.0;
  if (!small_turns) {
    if (between || u.room == Piece::big) {
      decide(Piece::big);
      return;
    }
    if (explorer.piece(state, u.big_end, u.without, cap).empty()) {
      attempt.capped = true;
      return;
    }
    if (!decide(Piece::big)) return;
    mover = Piece::big;
    radius = swing_of(big);
  } else if (u.room != Piece::big) {
    // The larger side turns instead only when its swing is smaller; most larger sides swing wider: look no further
    // than a few parts beyond the size of the smaller one.
    big = explorer.piece(state, u.big_end, u.without, std::max<std::size_t>(4 * small.size(), 32));
    if (!big.empty()) {
      const double other = swing_of(big);
      const std::size_t refusals = attempt.refusals.size();
      if (other < radius - 0.01 && decide(Piece::big)) {
        mover = Piece::big;
        radius = other;
      }
      attempt.refusals.resize(refusals);
    }
  }
  attempt.legal = true;
  const auto move_of = [&](Piece side, double reach, const std::vector<int>& vertices) {
    Move move;
    move.kind = MoveKind::unscrew;
    move.contacts = {c};
    move.travel = u.leaves(side).unit() * u.joint.engaged;
    move.turns = u.joint.engaged / u.joint.pitch;
    move.swing_radius = reach;
    finish(state, move, vertices);
    return move;
  };
  attempt.move = move_of(mover, radius, mover == Piece::small ? small : big);
  if (!both_sides || !small_turns) return;  // a small side that may not turn was refused above
  if (mover == Piece::big) {
    attempt.other_ways.push_back(move_of(Piece::small, swing_of(small), small));
  } else if (u.room != Piece::big) {
    big = explorer.piece(state, u.big_end, u.without, kNoCap);
    if (decide(Piece::big)) attempt.other_ways.push_back(move_of(Piece::big, swing_of(big), big));
    attempt.refusals.clear();
  }
}

}  // namespace dryfit::planner
