/// Undo move "unscrew": one side of a thread turns out of the other.
#include <algorithm>
#include <array>

#include "model/geometry/at.hpp"
#include "planner/moves/carried.hpp"
#include "planner/moves/moves_impl.hpp"

namespace dryfit::planner {

using model::Axis;
using model::Direction;
using model::kNone;
using model::Vec3;

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
  std::vector<int> small, big;  ///< the two sides; the larger only once it is walked
  bool line_has_holes = false;  ///< made holes or notches on the axis: there may be pieces besides S and O
  bool cluster_has_room = false;
  int small_end = 0, big_end = 0;  ///< vertices of the joint
  Piece room = Piece::other;       ///< where the room is; `room`: a third piece
  std::unordered_map<int, Piece> known;
  std::vector<int> big_piece;  ///< sorted, once it has been walked whole

  UnscrewCase(Undoer::Impl& impl_, const State& state_, ContactId c_)
      : impl(impl_),
        state(state_),
        c(c_),
        contact(impl_.contact(c_)),
        joint(impl_.frame.joint(contact.joint)),
        without{c_, contact.line, {}, kNone, kNone},
        axis{contact.on_axis, contact.axis} {}

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
  [[nodiscard]] double shift(Piece mover) const { return impl.turn_hits.shift(contact, leaves(mover)); }

  Refusal refuse(Piece mover, Refusal::Why why, PartId moving, PartId blocking) {
    Refusal r;
    r.kind = MoveKind::unscrew;
    r.why = why;
    r.moving = moving;
    r.blocking = blocking;
    r.turning = end_of(mover);
    return r;
  }

  /// Shows `met` the vertices that meet something in turning as `mover`, each with what it meets; true once that says
  /// it is enough.
  bool meets(Piece mover, const std::vector<int>& vertices, const std::function<bool(int, int)>& met) {
    TurnHits& hits = impl.turn_hits;
    std::vector<int> near;
    for (const int v : vertices) {
      if (v == impl.list.room()) continue;
      for (int i = impl.index.first(v); i < impl.index.last(v); ++i) {
        const model::Solid& solid = impl.index.bodies()[at(i)].solid;
        if (!hits.remembers()) impl.index.find(turned_bounds(solid, axis, shift(mover)), near);
        for (const int k : hits.remembers() ? hits.of(c, leaves(mover), i) : near) {
          const Body& other = impl.index.bodies()[at(k)];
          if (other.part == v || state.cluster(other.part) != state.cluster(small_end)) continue;
          if (mover == Piece::small && impl.marked(other.part)) continue;
          if (!hits.remembers() && !hits.hit(contact, leaves(mover), i, k)) continue;
          if (met(v, other.part)) return true;
        }
      }
    }
    return false;
  }

  /// The first hit of the vertices, turning as `mover`, against pieces for which `against` holds.
  std::optional<Refusal> first_hit(Piece mover, const std::vector<int>& vertices,
                                   const std::function<bool(Piece)>& against) {
    std::optional<Refusal> hit;
    meets(mover, vertices, [&](int v, int other) {
      if (!against(piece_of(other))) return false;
      hit = refuse(mover, Refusal::Why::hits_part, v, other);
      hold(v, hit->held_by);
      hold(other, hit->held_by);
      return true;
    });
    return hit;
  }

  std::optional<Refusal> first_surface(Piece mover, const std::vector<int>& vertices) {
    for (const int v : vertices) {
      if (v == impl.list.room()) continue;
      const int surface = impl.turn_hits.surface(c, leaves(mover), v);
      if (surface == kNone) continue;
      Refusal r = refuse(mover, Refusal::Why::hits_surface, v, kNone);
      r.surface = surface;
      hold(v, r.held_by);
      hold_room(r.held_by);
      return r;
    }
    return std::nullopt;
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

  /// Float: what the turn carries along has room on every way over a board on the axis.
  std::optional<Refusal> float_stops(Piece mover) {
    const auto& on_axis = impl.index.holes_on(contact.line);
    if (on_axis.empty()) return std::nullopt;
    const auto with_mover = [&](int v) { return mover == Piece::small ? impl.marked(v) : piece_of(v) == Piece::big; };
    // A board farther on stops what comes along the axis whether its own pipe is still in it or not.
    const Vec3 face = impl.frame.part(joint.female).ports[at(joint.female_port)].at;
    const auto asked = [&](const HoleOnLine& h) {
      const bool ahead = dot(impl.frame.part(h.board).centre - face, leaves(mover).unit()) > 0.0;
      return ahead || with_mover(h.board) || with_mover(impl.contact(h.contact).b);
    };
    Carried carried(impl, state, c, end_of(mover), mover == Piece::small ? big_end : small_end, leaves(mover));
    auto stopped = carried.first_stopped(joint.engaged, asked);
    const bool by_board = stopped.has_value();
    if (!stopped) stopped = carried.first_loose_stopped(joint.engaged);
    if (!stopped) return std::nullopt;
    const auto why = by_board ? Refusal::Why::board_in_the_way : Refusal::Why::loose_in_the_way;
    Refusal r = refuse(mover, why, stopped->board, stopped->stop);
    r.carried = stopped->moving;
    r.surface = stopped->surface;
    r.wanted = joint.engaged;
    r.given = stopped->given;
    r.held_by = std::move(stopped->held_by);
    return r;
  }

  /// Something hangs on the axis by its holes alone. All pieces besides sides and room do: nothing else was left out.
  bool hangs_loose() {
    const auto& holes = impl.index.holes_on(contact.line);
    return line_has_holes && std::any_of(holes.begin(), holes.end(), [&](const HoleOnLine& h) {
             const Contact& hole = impl.contact(h.contact);
             return state.made(h.contact) && (piece_of(hole.a) == Piece::other || piece_of(hole.b) == Piece::other);
           });
  }

  /// Something that hangs loose on the axis, and what takes it round: `by`, a vertex of what turns or of a load before.
  struct Load {
    int entry = kNone;
    int by = kNone;
    int before = kNone;  ///< kNone: what turns
  };

  /// Shows `met` each vertex that `v` meets on a full turn in place, of those that are of concern; true once that says
  /// it is enough.
  bool meets_in_place(int v, const std::function<bool(int)>& concerns, const std::function<bool(int)>& met) {
    TurnHits& hits = impl.turn_hits;
    std::vector<int> near;
    for (int i = impl.index.first(v); i < impl.index.last(v); ++i) {
      if (!hits.remembers()) impl.index.find(turned_bounds(impl.index.bodies()[at(i)].solid, axis, 0.0), near);
      for (const int k : hits.remembers() ? hits.in_place(c, i) : near) {
        const int other = impl.index.bodies()[at(k)].part;
        if (other == v || state.cluster(other) != state.cluster(small_end) || !concerns(other)) continue;
        if (!hits.remembers() && !hits.hit_in_place(contact, i, k)) continue;
        if (met(other)) return true;
      }
    }
    return false;
  }

  /// Why what goes round at `v` does so: the way through its loads back to what turns.
  void hold_load(Piece mover, const std::vector<Load>& loads, int load, int v, std::vector<ContactId>& held) {
    impl.way(state, v, small_end, {}, held);
    for (; load != kNone; load = loads[at(load)].before) {
      impl.way(state, v, loads[at(load)].entry, without, held);
      v = loads[at(load)].by;
    }
    impl.way(state, v, end_of(mover), without, held);
  }

  /// Each vertex of `mover` with each board that it meets of what hangs loose on the axis, as `meets` shows them.
  /// Mostly there are more vertices than boards, and what a board turned the other way would meet, meets the board.
  std::vector<std::pair<int, int>> loose_boards_met(Piece mover, const std::vector<int>& vertices) {
    std::vector<std::pair<int, int>> met;
    if (!impl.turn_hits.remembers() || vertices.size() <= impl.frame.boards.size()) {
      meets(mover, vertices, [&](int v, int other) {
        if (impl.is_board(other) && piece_of(other) == Piece::other) met.emplace_back(v, other);
        return false;
      });
      return met;
    }
    std::vector<int> place(impl.list.at.size(), kNone);
    for (std::size_t i = 0; i < vertices.size(); ++i) place[at(vertices[i])] = static_cast<int>(i);
    std::vector<std::array<int, 3>> hits;  // place of the vertex, its body, the board's
    for (const model::Board& board : impl.frame.boards) {
      if (state.cluster(board.part) != state.cluster(small_end) || place[at(board.part)] != kNone) continue;
      const std::size_t before = hits.size();
      for (int k = impl.index.first(board.part); k < impl.index.last(board.part); ++k) {
        for (const int i : impl.turn_hits.of(c, -leaves(mover), k)) {
          const int v = place[at(impl.index.bodies()[at(i)].part)];
          if (v != kNone) hits.push_back({v, i, k});
        }
      }
      if (hits.size() > before && piece_of(board.part) != Piece::other) hits.resize(before);
    }
    std::sort(hits.begin(), hits.end());
    for (const auto& [v, i, k] : hits) met.emplace_back(vertices[at(v)], impl.index.bodies()[at(k)].part);
    return met;
  }

  /// What turns takes round the boards that it meets of all that hangs loose on the axis, and these take round the
  /// boards that they meet. All of it has to be clear of what stays where it is. What else is met is turned out of the
  /// way; what lies on the axis itself is no better for that and has to give way along it, see float_stops.
  std::optional<Refusal> taken_round(Piece mover, const std::vector<int>& vertices) {
    if (!hangs_loose()) return std::nullopt;
    std::vector<Load> loads;
    std::unordered_map<int, int> load_of;
    std::vector<int> open;
    const auto take = [&](int v, int by, int before) {
      if (load_of.contains(v)) return;
      loads.push_back({v, by, before});
      for (const int member : impl.explorer.piece(state, v, without, Undoer::kNoCap)) {
        load_of.emplace(member, static_cast<int>(loads.size()) - 1);
        open.push_back(member);
      }
    };
    for (const auto& [v, board] : loose_boards_met(mover, vertices)) take(board, v, kNone);
    const auto concerns = [&](int other) {
      const Piece piece = piece_of(other);
      return piece == Piece::other ? impl.is_board(other) && !load_of.contains(other) : piece != mover;
    };
    for (std::size_t i = 0; i < open.size(); ++i) {
      const int v = open[i], load = load_of.at(v);
      int stop = kNone;
      const auto stops = [&](int other) {
        if (piece_of(other) == Piece::other) {
          take(other, v, load);
        } else {
          stop = other;
        }
        return stop != kNone;
      };
      std::optional<Refusal> r;
      if (meets_in_place(v, concerns, stops)) {
        r = refuse(mover, Refusal::Why::hits_part, v, stop);
        hold(stop, r->held_by);
      } else if (cluster_has_room) {
        const auto found = impl.first_in_surface(
            {v}, [&](const model::Solid& solid, Vec3 in) { return turn_reach(solid, axis, 0.0, in); });
        if (!found) continue;
        r = refuse(mover, Refusal::Why::hits_surface, v, kNone);
        r->surface = found->second;
        hold_room(r->held_by);
      } else {
        continue;
      }
      hold_load(mover, loads, load, v, r->held_by);
      return r;
    }
    return std::nullopt;
  }

  /// Why `mover` cannot turn, or nothing. `between`: a hit of the two sides, told as the smaller one turning.
  std::optional<Refusal> blocked(Piece mover, const std::vector<int>& vertices, const std::optional<Refusal>& between) {
    if (room == mover) {
      Refusal r = refuse(mover, Refusal::Why::holds_room, end_of(mover), kNone);
      impl.way(state, end_of(mover), impl.list.room(), without, r.held_by);
      return r;
    }
    if (between) {
      Refusal r = *between;
      if (mover == Piece::big) std::swap(r.moving, r.blocking);
      r.turning = end_of(mover);
      return r;
    }
    std::optional<Refusal> refusal = loose_board(mover, vertices);
    if (!refusal) refusal = float_stops(mover);
    if (!refusal && cluster_has_room) refusal = first_surface(mover, vertices);
    if (!refusal && room == Piece::room) {
      refusal = first_hit(mover, vertices, [](Piece p) { return p == Piece::room; });
    }
    if (!refusal) refusal = taken_round(mover, vertices);
    return refusal;
  }

  [[nodiscard]] KnownSides::Known known_of(Piece mover) {
    if (!impl.turn_hits.remembers()) return KnownSides::Known::nothing;
    return impl.known_sides.of(state, c, end_of(mover) == impl.list.vertex(contact.a));
  }
  /// Keeps what came of looking whether the side can turn.
  void keep(Piece mover, const std::optional<Refusal>& refusal) {
    if (!impl.turn_hits.remembers()) return;
    const bool male = end_of(mover) == impl.list.vertex(contact.a);
    if (!refusal) {
      impl.known_sides.keep_going(state, c, male);
    } else if (!refusal->held_by.empty()) {
      impl.known_sides.keep_staying(c, male, refusal->held_by);
    }
  }
  /// As `blocked`, where nobody asks why.
  [[nodiscard]] bool may_turn(Piece mover, const std::vector<int>& vertices, const std::optional<Refusal>& between) {
    const KnownSides::Known found = known_of(mover);
    if (found != KnownSides::Known::nothing) return found == KnownSides::Known::goes;
    const std::optional<Refusal> refusal = blocked(mover, vertices, between);
    keep(mover, refusal);
    return !refusal;
  }

  /// Farthest point of the vertices from the axis, mm.
  [[nodiscard]] double swing_of(const std::vector<int>& vertices) const {
    double r = 0.0;
    for (const int v : vertices) {
      if (v != impl.list.room()) r = std::max(r, impl.turn_hits.swing(c, v));
    }
    return r;
  }

  [[nodiscard]] Move move_of(Piece side, const std::vector<int>& vertices) const {
    Move move;
    move.kind = MoveKind::unscrew;
    move.contacts = {c};
    if (impl.brief) return move;
    move.travel = leaves(side).unit() * joint.engaged;
    move.turns = joint.engaged / joint.pitch;
    move.swing_radius = swing_of(vertices);
    impl.finish(state, move, vertices);
    return move;
  }

  /// Finds the two sides; false, with the reason in `attempt`, when they are one piece or both too large.
  bool find_sides(std::size_t cap, Attempt& attempt) {
    const int male = impl.list.vertex(contact.a), female = impl.list.vertex(contact.b);
    Explorer::Split split = impl.explorer.split(state, male, female, without, cap);
    if (split.capped) {
      attempt.capped = true;
      return false;
    }
    if (split.joined) {
      Refusal r;
      r.kind = MoveKind::unscrew;
      r.why = Refusal::Why::ring;
      r.held_by = std::move(split.path);
      attempt.refusals.push_back(std::move(r));
      return false;
    }
    small = std::move(split.small);
    small_end = split.small_has_first ? male : female;
    big_end = split.small_has_first ? female : male;
    impl.mark(small);
    for (const HoleOnLine& h : impl.index.holes_on(contact.line)) line_has_holes |= state.made(h.contact);
    cluster_has_room = state.holds_room(male);
    if (cluster_has_room) find_room();
    return true;
  }

  void find_room() {
    const int vertex = impl.list.room();
    if (impl.marked(vertex)) {
      room = Piece::small;
    } else if (!line_has_holes || impl.explorer.split(state, vertex, big_end, without, Undoer::kNoCap).joined) {
      room = Piece::big;
    } else {
      room = Piece::room;
    }
  }

  /// The larger side turns instead of the smaller, which can, only when its swing is smaller. Most swing wider: look no
  /// further than a few parts beyond the size of the smaller one.
  [[nodiscard]] bool big_turns_tighter(const std::optional<Refusal>& between) {
    if (room == Piece::big) return false;
    big = impl.explorer.piece(state, big_end, without, std::max<std::size_t>(4 * small.size(), 32));
    return !big.empty() && swing_of(big) < swing_of(small) - 0.01 && may_turn(Piece::big, big, between);
  }

  /// The smaller side cannot turn: the larger may. `attempt` has why not.
  void try_big(std::size_t cap, const std::optional<Refusal>& between, Attempt& attempt) {
    if (!between && room != Piece::big) {
      big = impl.explorer.piece(state, big_end, without, cap);
      if (big.empty()) {
        attempt.capped = true;
        return;
      }
    }
    if (known_of(Piece::big) != KnownSides::Known::goes) {
      std::optional<Refusal> refusal = blocked(Piece::big, big, between);
      keep(Piece::big, refusal);
      if (refusal) {
        attempt.refusals.push_back(std::move(*refusal));
        return;
      }
    }
    attempt.legal = true;
    attempt.move = move_of(Piece::big, big);
  }

  /// Keeps that the smaller side can turn, and what that rests on. Not with boards on the axis: what they leave room
  /// for depends on more.
  void remember_small() {
    TurnHits& hits = impl.turn_hits;
    if (!hits.remembers() || !impl.index.holes_on(contact.line).empty()) return;
    LegalTurns::Turn turn;
    turn.parts = small.size();
    turn.end = small_end;
    for (const int v : small) {
      for (int i = impl.index.first(v); i < impl.index.last(v); ++i) {
        for (const int k : hits.of(c, leaves(Piece::small), i)) {
          const PartId met = impl.index.bodies()[at(k)].part;
          if (!impl.marked(met)) turn.meets.push_back(met);
        }
      }
      for (const ContactId k : impl.contacts_at(v)) {
        // What has gone without leading out of it does not matter, but for a board that would lie loose in it.
        const bool out = !impl.marked(impl.other_vertex(k, v)) || impl.contact(k).kind == ContactKind::rest;
        if (out && !state.made(k)) turn.gone.push_back(k);
      }
    }
    std::sort(turn.meets.begin(), turn.meets.end());
    turn.meets.erase(std::unique(turn.meets.begin(), turn.meets.end()), turn.meets.end());
    turn.enters_surface = !cluster_has_room && first_surface(Piece::small, small).has_value();
    impl.legal_turns.keep(c, std::move(turn));
  }

  /// The smaller side can turn: which of the two does, and, when both are asked for, the other way.
  void choose(const std::optional<Refusal>& between, Attempt& attempt) {
    const bool tighter = !impl.brief && big_turns_tighter(between);
    attempt.legal = true;
    attempt.move = tighter ? move_of(Piece::big, big) : move_of(Piece::small, small);
    if (!impl.both_sides) return;
    if (tighter) {
      attempt.other_ways.push_back(move_of(Piece::small, small));
    } else if (room != Piece::big) {
      big = impl.explorer.piece(state, big_end, without, Undoer::kNoCap);
      if (may_turn(Piece::big, big, between)) attempt.other_ways.push_back(move_of(Piece::big, big));
    }
  }
};

void Undoer::Impl::unscrew(const State& state, ContactId c, std::size_t cap, Attempt& attempt) {
  using Piece = UnscrewCase::Piece;
  if (brief && legal_turns.known(state, c, cap)) {
    attempt.legal = true;
    attempt.move.kind = MoveKind::unscrew;
    attempt.move.contacts = {c};
    return;
  }
  UnscrewCase u(*this, state, c);
  if (!u.find_sides(cap, attempt)) return;
  const KnownSides::Known known = u.known_of(Piece::small);
  if (known == KnownSides::Known::goes) {
    if (brief) u.remember_small();
    return u.choose(std::nullopt, attempt);
  }
  if (known == KnownSides::Known::stays && u.known_of(Piece::big) == KnownSides::Known::goes) {
    return u.try_big(cap, std::nullopt, attempt);
  }
  // Turning one side or the other sweeps the same between S and O, so that pair is tested once, on the smaller side.
  const std::optional<Refusal> between = u.first_hit(Piece::small, u.small, [](Piece p) { return p == Piece::big; });
  std::optional<Refusal> refusal = u.blocked(Piece::small, u.small, between);
  u.keep(Piece::small, refusal);
  if (!refusal) {
    if (brief) u.remember_small();
    u.choose(between, attempt);
    return;
  }
  attempt.refusals.push_back(std::move(*refusal));
  u.try_big(cap, between, attempt);
}

}  // namespace dryfit::planner
