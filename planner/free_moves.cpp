#include "planner/free_moves.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace dryfit::planner {

using model::kRoom;

bool FreeMoves::is_strap(const Contact& c) const {
  return c.kind == ContactKind::fastening &&
         undoer_.frame().fastenings[static_cast<std::size_t>(c.fastening)].kind == model::Fastening::Kind::strap;
}

/// Nothing but `c` holds the part.
bool FreeMoves::hangs_by(const State& state, PartId part, ContactId c) const {
  const auto& contacts = undoer_.list().at[static_cast<std::size_t>(part)];
  return std::all_of(contacts.begin(), contacts.end(), [&](ContactId k) { return k == c || !state.made(k); });
}

/// A strap on a board that lies on the work makes turning the work cheaper. It is free to go only where the board goes
/// at once: then nothing is left to be strapped for a turn.
bool FreeMoves::board_goes_with_straps(const State& state, PartId board) const {
  const ContactList& list = undoer_.list();
  State bare = state;
  ContactId rest = model::kNone;
  for (const ContactId k : list.at[static_cast<std::size_t>(board)]) {
    if (!state.made(k)) continue;
    const Contact& c = list.contacts[static_cast<std::size_t>(k)];
    if (c.kind == ContactKind::rest && c.a == board) rest = k;
    if (c.kind != ContactKind::fastening) continue;
    if (!is_strap(c)) return false;
    bare.undo({k});
  }
  if (rest == model::kNone) return true;  // it hangs on pipes
  Attempt away = undoer_.try_undo(bare, rest);
  return away.legal && away.move.moving.size() == 1 && effort_.price(bare, away.move).total() <= 0.0;
}

bool FreeMoves::is_free(const State& state, Move& move, Extra& extra) const {
  const ContactId c = move.contacts.front();
  const Contact& first = undoer_.list().contacts[static_cast<std::size_t>(c)];
  if (move.kind == MoveKind::unfasten || move.kind == MoveKind::undo_nut) {
    if (first.b == kRoom) return true;
    if (is_strap(first)) return board_goes_with_straps(state, first.a);
    // Undone first it is free where it closes a ring, and makes the ring's other joint dear: that is for the search.
    if (!hangs_by(state, first.a, c) && !hangs_by(state, first.b, c)) return false;
    extra = effort_.price(state, move);
    return extra.total() <= 0.0;
  }
  extra = effort_.price(state, move);
  return move.moving.size() == 1 && extra.total() <= 0.0;
}

/// Without asking: a thread comes free only of a part that hangs on nothing else but holes on its axis, a board or pipe
/// slides off alone only when nothing but holes holds it.
bool FreeMoves::may_be_free(const State& state, ContactId c) const {
  const ContactList& list = undoer_.list();
  const Contact& asked = list.contacts[static_cast<std::size_t>(c)];
  const bool hole = asked.kind == ContactKind::hole || asked.kind == ContactKind::notch;
  const bool joins_two = asked.kind == ContactKind::nut || (asked.kind == ContactKind::fastening && asked.b != kRoom);
  if (joins_two && !is_strap(asked)) return hangs_by(state, asked.a, c) || hangs_by(state, asked.b, c);
  if (asked.kind != ContactKind::thread && !hole) return true;
  const auto bare = [&](PartId part) {
    const auto& contacts = list.at[static_cast<std::size_t>(part)];
    return std::all_of(contacts.begin(), contacts.end(), [&](ContactId k) {
      if (k == c || !state.made(k)) return true;
      const Contact& other = list.contacts[static_cast<std::size_t>(k)];
      return (other.kind == ContactKind::hole || other.kind == ContactKind::notch) &&
             (hole || other.line == asked.line);
    });
  };
  return bare(asked.a) || bare(asked.b);
}

bool FreeMoves::ask(const State& state, ContactId c, PricedMove& priced, std::vector<ContactId>& watch, bool& legal) {
  if (const std::vector<ContactId>* grounds = refused_.find(state, c)) {
    legal = false;
    watch = *grounds;
    return false;
  }
  Attempt attempt = undoer_.try_undo(state, c);
  legal = attempt.legal;
  if (!attempt.legal) {
    watch = refused_.keep(c, attempt.refusals);
    return false;
  }
  priced.move = std::move(attempt.move);
  if (is_free(state, priced.move, priced.extra)) return true;
  if (priced.move.kind != MoveKind::unscrew && priced.move.kind != MoveKind::slide) return false;
  for (Move& other : undoer_.ways(state, c)) {
    priced.move = std::move(other);
    if (is_free(state, priced.move, priced.extra)) return true;
  }
  return false;
}

std::vector<PricedMove> FreeMoves::peel(State& state, Place last) {
  const ContactList& list = undoer_.list();
  const std::size_t n = list.contacts.size();
  std::vector<PricedMove> result;
  std::vector<PricedMove> ready(n);
  std::set<ContactId> open;                     // contacts whose move in `ready` is free
  std::set<ContactId> dear;                     // not free yet; asked again once a bare part makes it likely
  std::vector<std::set<ContactId>> waiting(n);  // per contact: those to ask again when it has gone
  const auto consider = [&](ContactId c) {
    const auto i = static_cast<std::size_t>(c);
    if (!state.made(c) || open.count(c) != 0) return;
    if (!may_be_free(state, c)) {
      dear.insert(c);
      return;
    }
    std::vector<ContactId> watch;
    bool legal = false;
    dear.erase(c);
    if (ask(state, c, ready[i], watch, legal)) {
      open.insert(c);
    } else if (legal) {
      dear.insert(c);
    }
    for (const ContactId h : watch) waiting[static_cast<std::size_t>(h)].insert(c);
  };
  for (ContactId c = 0; c < static_cast<ContactId>(n); ++c) consider(c);

  std::vector<PartId> just_moved;
  for (;;) {
    for (auto c = dear.begin(); c != dear.end();) {
      const ContactId likely = *c++;
      if (may_be_free(state, likely)) consider(likely);
    }
    if (open.empty()) return result;
    ContactId best = *open.begin();
    UndoKey best_key;
    bool have = false;
    for (const ContactId c : open) {
      const UndoKey key =
          key_of(undoer_.frame(), list, effort_, state, ready[static_cast<std::size_t>(c)].move, last, just_moved);
      if (!have || key < best_key) {
        best = c;
        best_key = key;
        have = true;
      }
    }
    open.erase(best);
    // Asked again: what goes along may have become less since.
    std::vector<ContactId> watch;
    bool legal = false;
    PricedMove priced;
    if (!ask(state, best, priced, watch, legal)) {
      for (const ContactId h : watch) waiting[static_cast<std::size_t>(h)].insert(best);
      if (legal) dear.insert(best);
      continue;
    }
    state.undo(priced.move.contacts);
    for (const ContactId gone : priced.move.contacts) {
      open.erase(gone);
      dear.erase(gone);
    }
    std::set<ContactId> again;
    for (const ContactId gone : priced.move.contacts) {
      for (const ContactId w : std::exchange(waiting[static_cast<std::size_t>(gone)], {})) again.insert(w);
    }
    for (const ContactId w : again) consider(w);
    last = place_of(list, effort_, priced.move);
    just_moved = priced.move.moving;
    result.push_back(std::move(priced));
  }
}

}  // namespace dryfit::planner
