#include "planner/peel/peel.hpp"

#include <algorithm>
#include <queue>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/peel/peel_turn.hpp"

namespace dryfit::planner {

Peeling peel(Undoer& undoer, State& state, const std::vector<char>* frozen) {
  const ContactList& list = undoer.list();
  const std::size_t n = list.contacts.size();
  std::priority_queue<PeelTurn, std::vector<PeelTurn>, std::greater<>> queue;
  std::vector<char> queued(n, 0);
  std::vector<std::vector<ContactId>> waiting(n);  // per contact: those to ask again when it has gone
  std::vector<std::vector<Refusal>> refusals(n);
  std::vector<ContactId> large;  // not decided within the cap
  const auto ask = [&](ContactId c) {
    const auto i = at(c);
    if (queued[i] != 0 || !state.made(c)) return;
    if (frozen != nullptr && (*frozen)[i] != 0) return;
    queued[i] = 1;
    queue.push(peel_turn(list, c));
  };
  for (ContactId c = 0; c < static_cast<ContactId>(n); ++c) ask(c);

  Peeling result;
  std::size_t cap = kFirstPeelCap;
  while (!queue.empty() || !large.empty()) {
    if (queue.empty()) {
      cap = cap >= list.at.size() ? Undoer::kNoCap : cap * 8;
      for (const ContactId c : std::exchange(large, {})) ask(c);
      continue;
    }
    const ContactId c = queue.top().contact();
    queue.pop();
    queued[at(c)] = 0;
    if (!state.made(c)) continue;
    Attempt attempt = undoer.try_undo(state, c, cap, frozen);
    if (attempt.legal) {
      state.undo(attempt.move.contacts);
      for (const ContactId gone : attempt.move.contacts) {
        for (const ContactId w : std::exchange(waiting[at(gone)], {})) ask(w);
      }
      result.moves.push_back(std::move(attempt.move));
      continue;
    }
    if (attempt.capped) {
      large.push_back(c);
    }
    for (const Refusal& refusal : attempt.refusals) {
      for (const ContactId h : refusal.held_by) waiting[at(h)].push_back(c);
    }
    refusals[at(c)] = std::move(attempt.refusals);
  }
  for (ContactId c = 0; c < static_cast<ContactId>(n); ++c) {
    if (!state.made(c)) continue;
    result.remaining.push_back(c);
    result.refusals.push_back(std::move(refusals[at(c)]));
  }
  return result;
}

}  // namespace dryfit::planner
