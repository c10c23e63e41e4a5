#include "planner/early/undo_rules.hpp"

#include <algorithm>

namespace dryfit::planner {

int FrameRules::contacts() const { return static_cast<int>(undoer_->list().contacts.size()); }

std::vector<std::vector<ContactId>> FrameRules::moves(const std::vector<char>& made) {
  std::vector<std::vector<ContactId>> sets;
  for (Move& move : undoer_->all_moves(State(undoer_->list(), made))) {
    std::sort(move.contacts.begin(), move.contacts.end());
    sets.push_back(std::move(move.contacts));
  }
  std::sort(sets.begin(), sets.end());
  sets.erase(std::unique(sets.begin(), sets.end()), sets.end());
  return sets;
}

}  // namespace dryfit::planner
