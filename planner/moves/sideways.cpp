/// Undo move "sideways": a board leaves pipes, or a run leaves boards, through slots that are open to one side.
#include <algorithm>

#include "planner/moves/sliding_piece.hpp"

namespace dryfit::planner {

using model::Direction;
using model::kNone;

namespace {

/// True when the slot lets go while the vertex's side moves along d: a board moves away from its open side, a pipe out
/// of it.
bool lets_go(const Undoer::Impl& impl, const Contact& contact, int vertex, Direction d) {
  if (contact.kind != ContactKind::notch) return false;
  return impl.slot(contact).open == (impl.list.vertex(contact.a) == vertex ? -d : d);
}

/// K: what goes along when `seed` is moved along d. A slot that is open the other way pushes what is in it along.
enum class Pushed { whole, other_end, room, too_many };
Pushed push_along(SlidingPiece& s, int other_end, std::size_t cap) {
  Undoer::Impl& impl = s.impl;
  const int seed = s.k.front();
  for (std::size_t i = 0; i < s.k.size(); ++i) {
    const int v = s.k[i];
    ++impl.explorer.visited;
    for (const ContactId c : impl.contacts_at(v)) {
      if (!s.state.made(c) || lets_go(impl, impl.contact(c), v, s.d)) continue;
      const int next = impl.other_vertex(c, v);
      if (next == seed || !s.reached_by.emplace(next, c).second) continue;
      s.k.push_back(next);
      if (next == other_end) return Pushed::other_end;
      if (next == impl.list.room()) return Pushed::room;
      if (s.k.size() > cap) return Pushed::too_many;
    }
  }
  return Pushed::whole;
}

/// Why K cannot move although nothing is in its way: it holds what it should leave, or the room.
Refusal stuck(SlidingPiece& s, PartId board, int reached) {
  Refusal r;
  r.kind = MoveKind::sideways;
  r.moving = s.k.front();
  r.why = s.impl.made_fastening(s.state, board) != kNone ? Refusal::Why::fastened : Refusal::Why::no_way;
  s.hold_in_k(reached, r.held_by);
  return r;
}

std::optional<Move> pushed_out(SlidingPiece& s, const Contact& asked, ContactId c, std::size_t cap,
                               const std::vector<char>* frozen, Attempt& attempt) {
  Undoer::Impl& impl = s.impl;
  const int seed = s.k.front(), board = impl.list.vertex(asked.a), pipe = impl.list.vertex(asked.b);
  const Pushed pushed = push_along(s, seed == board ? pipe : board, cap);
  if (pushed == Pushed::too_many) {
    attempt.capped = true;
    return std::nullopt;
  }
  if (pushed != Pushed::whole) {
    attempt.refusals.push_back(stuck(s, asked.a, s.k.back()));
    return std::nullopt;
  }
  impl.mark(s.k);
  s.cluster_has_room = s.state.holds_room(seed);
  std::optional<Refusal> refusal =
      s.gather(c, frozen, [&](const Contact& contact, int v) { return lets_go(impl, contact, v, s.d); });
  if (!refusal) refusal = s.tight_in_slot();
  if (!refusal) {
    s.find_travel();
    refusal = s.first_hit();
  }
  if (!refusal && s.cluster_has_room) refusal = s.first_surface(s.k, s.d.unit() * s.travel);
  if (refusal) {
    attempt.refusals.push_back(std::move(*refusal));
    return std::nullopt;
  }
  Move move;
  move.kind = MoveKind::sideways;
  move.contacts = s.left_out;
  put_first(move.contacts, c);
  move.travel = s.d.unit() * s.travel;
  impl.finish(s.state, move, s.k);
  return move;
}

}  // namespace

void Undoer::Impl::sideways(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen,
                            Attempt& attempt, std::vector<Move>* every_way) {
  const Contact& asked = contact(c);
  const Direction open = slot(asked).open;
  std::optional<Move> best;
  for (const bool board_moves : {true, false}) {
    SlidingPiece s{.impl = *this,
                   .state = state,
                   .kind = MoveKind::sideways,
                   .d = board_moves ? -open : open,
                   .k = {list.vertex(board_moves ? asked.a : asked.b)}};
    std::optional<Move> move = pushed_out(s, asked, c, cap, frozen, attempt);
    if (!move) continue;
    if (every_way != nullptr) every_way->push_back(*move);
    if (!best || move->mass < best->mass - 1e-9) best = std::move(move);
  }
  if (!best) return;
  attempt.legal = true;
  attempt.move = std::move(*best);
}

}  // namespace dryfit::planner
