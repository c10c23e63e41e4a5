#include "planner/free_moves.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace dryfit::planner {

/// A board on flanges and nothing else: whichever of its fastenings goes last, one bare board comes off.
bool FreeMoves::held_by_screws(const State& state, PartId board) const {
  const auto& contacts = undoer_.list().at[static_cast<std::size_t>(board)];
  return std::all_of(contacts.begin(), contacts.end(), [&](ContactId c) {
    return !state.made(c) || undoer_.list().contacts[static_cast<std::size_t>(c)].kind == ContactKind::fastening;
  });
}

bool FreeMoves::is_free(const State& state, Move& move, Extra& extra) const {
  const Contact& first = undoer_.list().contacts[static_cast<std::size_t>(move.contacts.front())];
  if (move.kind == MoveKind::unfasten) {
    if (first.b == model::kRoom) return true;
    using Kind = model::Fastening::Kind;
    const bool strap = undoer_.frame().fastenings[static_cast<std::size_t>(first.fastening)].kind == Kind::strap;
    if (!strap && !held_by_screws(state, first.b)) return false;
    extra = effort_.price(state, move);
    return extra.total() <= 0.0;
  }
  // A nut, or a flange under a board, may close a ring: undone first it is free and makes another one dear. It waits
  // for the search.
  if (move.kind == MoveKind::undo_nut) return false;
  extra = effort_.price(state, move);
  return move.moving.size() == 1 && extra.total() <= 0.0;
}

bool FreeMoves::ask(const State& state, ContactId c, PricedMove& priced, std::vector<ContactId>& watch, bool& legal) {
  Attempt attempt = undoer_.try_undo(state, c);
  legal = attempt.legal;
  if (!attempt.legal) {
    for (const Refusal& refusal : attempt.refusals)
      watch.insert(watch.end(), refusal.held_by.begin(), refusal.held_by.end());
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
  std::set<ContactId> dear;                     // legal, but not free yet
  std::vector<std::set<ContactId>> waiting(n);  // per contact: those to ask again when it has gone
  const auto consider = [&](ContactId c) {
    const auto i = static_cast<std::size_t>(c);
    if (!state.made(c) || open.count(c) != 0) return;
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
  constexpr std::size_t kFew = 48;  // so many dear ones are asked again after every move, more of them only at the end
  for (;;) {
    if (open.empty() || dear.size() <= kFew) {
      for (const ContactId c : std::vector<ContactId>(dear.begin(), dear.end())) consider(c);
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
