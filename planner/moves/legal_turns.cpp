#include "planner/moves/legal_turns.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

bool LegalTurns::known(const State& state, ContactId thread, std::size_t cap) {
  std::vector<Turn>& turns = known_[at(thread)];
  const auto stands = [&](Turn& turn) {
    // States that follow each other mostly have the same made: one look is enough for most that do not stand.
    if (turn.back != model::kNone && state.made(turn.back)) return false;
    if (turn.parts > cap || (turn.enters_surface && state.holds_room(turn.end))) return false;
    const auto back = std::find_if(turn.gone.begin(), turn.gone.end(), [&](ContactId c) { return state.made(c); });
    if (back != turn.gone.end()) {
      turn.back = *back;
      return false;
    }
    return std::none_of(turn.meets.begin(), turn.meets.end(),
                        [&](PartId p) { return state.cluster(p) == state.cluster(turn.end); });
  };
  const auto found = std::find_if(turns.begin(), turns.end(), stands);
  if (found == turns.end()) return false;
  std::rotate(turns.begin(), found, found + 1);
  return true;
}

void LegalTurns::keep(ContactId thread, Turn turn) {
  std::vector<Turn>& turns = known_[at(thread)];
  if (turns.size() == kMost) turns.pop_back();
  turns.insert(turns.begin(), std::move(turn));
}

}  // namespace dryfit::planner
