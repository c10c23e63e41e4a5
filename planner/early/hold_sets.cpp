#include "planner/early/hold_sets.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

HoldSets::HoldSets(Undoer& undoer, const State& from, const std::vector<char>& free)
    : undoer_(undoer),
      free_(free),
      shared_(undoer, from.all(), free),
      brought_in_(undoer.frame().boards.size(), 0),
      groups_(undoer.frame().boards.size()) {}

bool HoldSets::tells(ContactId once_gone) const {
  return free_[at(once_gone)] == 0 && takes_own_move(undoer_.list().contact(once_gone).kind);
}

bool HoldSets::add(const Hold& hold) {
  if (!known_.insert(hold).second) return false;
  holds_.push_back(hold);
  return hold.always() || tells(hold.once_gone);
}

void HoldSets::let_share(int below) {
  share_below_ = below;
  boards_.clear();
  std::fill(brought_in_.begin(), brought_in_.end(), 0);
  groups_ = DisjointSets(brought_in_.size());
  elements_.clear();
}

bool HoldSets::may_share(int board, int other) {
  return share_below_ > 0 && shared_.least_before(board, other) < share_below_ - 1;
}

/// Groups may merge: then the elements of earlier holds have other numbers.
void HoldSets::bring_in(int board) {
  if (brought_in_[at(board)] != 0) return;
  brought_in_[at(board)] = 1;
  for (const int other : boards_) {
    if (groups_.together(board, other) || !may_share(board, other)) continue;
    groups_.join(board, other);
    elements_.clear();
  }
  boards_.push_back(board);
}

int HoldSets::element_of(ContactId c) const {
  const Contact& contact = undoer_.list().contact(c);
  if (takes_own_move(contact.kind)) return c;
  return static_cast<int>(undoer_.list().contacts.size()) + groups_.find(undoer_.frame().part(contact.a).board);
}

bool HoldSets::picked(ContactId c, const std::set<int>& elements) {
  const Contact& contact = undoer_.list().contact(c);
  if (takes_own_move(contact.kind)) return elements.contains(c);
  const int board = undoer_.frame().part(contact.a).board;
  return brought_in_[at(board)] != 0 && elements.contains(element_of(c));
}

/// Only what came since the last call is worked out, unless groups merge.
void HoldSets::work_out() {
  for (std::size_t h = elements_.size(); h < holds_.size(); ++h) {  // first all boards, since groups may merge
    for (const ContactId c : holds_[h].of) {
      const Contact& contact = undoer_.list().contact(c);
      if (!takes_own_move(contact.kind)) bring_in(undoer_.frame().part(contact.a).board);
    }
  }
  for (std::size_t h = elements_.size(); h < holds_.size(); ++h) {
    std::vector<int>& set = elements_.emplace_back();
    for (const ContactId c : holds_[h].of) set.push_back(element_of(c));
  }
}

HittingSet HoldSets::smallest(long long nodes) {
  work_out();
  std::vector<std::vector<int>> sets;
  std::vector<ImpliedSet> implied;
  for (std::size_t h = 0; h < holds_.size(); ++h) {
    if (holds_[h].always()) {
      sets.push_back(elements_[h]);
    } else if (tells(holds_[h].once_gone)) {
      implied.push_back({holds_[h].once_gone, elements_[h]});
    }
  }
  return smallest_hitting_set(sets, implied, nodes);
}

int HoldSets::at_least(const State& state, long long nodes) {
  work_out();
  std::vector<std::vector<int>> sets;
  std::vector<ImpliedSet> implied;
  for (std::size_t h = 0; h < holds_.size(); ++h) {
    const Hold& hold = holds_[h];
    if (hold.holds_in(state)) {
      sets.push_back(elements_[h]);
    } else if (!hold.always() && tells(hold.once_gone) && Hold{hold.of}.holds_in(state)) {
      implied.push_back({hold.once_gone, elements_[h]});
    }
  }
  return smallest_hitting_set(sets, implied, nodes).at_least;
}

}  // namespace dryfit::planner
