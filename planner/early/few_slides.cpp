#include "planner/early/few_slides.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

/// The move that takes most of the hole-like contacts and rests that are wanted, and nothing else; empty without one.
std::vector<ContactId> widest(Undoer& undoer, const State& state, const std::vector<char>& undo) {
  std::vector<ContactId> best;
  std::vector<char> seen(undo.size(), 0);
  for (ContactId c = 0; c < static_cast<ContactId>(undo.size()); ++c) {
    if (undo[at(c)] == 0 || !state.made(c) || seen[at(c)] != 0) continue;
    if (takes_own_move(undoer.list().contact(c).kind)) continue;
    for (Move& move : undoer.ways(state, c)) {
      const bool wanted =
          std::all_of(move.contacts.begin(), move.contacts.end(), [&](ContactId d) { return undo[at(d)] != 0; });
      if (!wanted) continue;
      for (const ContactId d : move.contacts) seen[at(d)] = 1;
      if (move.contacts.size() > best.size()) best = std::move(move.contacts);
    }
  }
  return best;
}

}  // namespace

std::vector<std::vector<ContactId>> in_few_slides(Undoer& undoer, const State& from, const std::vector<char>& undo,
                                                  RefusalMemory& memory) {
  std::vector<std::vector<ContactId>> moves;
  std::vector<char> frozen(undo.size(), 1);
  for (ContactId c = 0; c < static_cast<ContactId>(undo.size()); ++c) {
    if (undo[at(c)] != 0 && takes_own_move(undoer.list().contact(c).kind)) frozen[at(c)] = 0;
  }
  State state = from;
  while (true) {
    Peeler peeler(undoer, state, frozen, &memory);
    peeler.run();
    moves.insert(moves.end(), peeler.undone().begin(), peeler.undone().end());
    state = peeler.state();
    std::vector<ContactId> slide = widest(undoer, state, undo);
    if (slide.empty()) break;
    state.undo(slide);
    moves.push_back(std::move(slide));
  }
  for (ContactId c = 0; c < static_cast<ContactId>(undo.size()); ++c) {
    if (undo[at(c)] != 0 && state.made(c)) return {};
  }
  return moves;
}

}  // namespace dryfit::planner
