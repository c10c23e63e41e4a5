#include "planner/early/hold_sets.hpp"

#include <algorithm>
#include <map>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

/// So many moves of one element are counted beyond the first.
constexpr std::size_t kFurther = 8;
/// Sets that a bound is found of at once.
constexpr std::size_t kFewSetsOfBound = 64;
/// And so many contacts of one element are looked at, two by two.
constexpr std::size_t kContactsOfElement = 24;

}  // namespace

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
  further_.clear();
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
    further_.clear();
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

void HoldSets::add_further_slides(const State* state, std::vector<std::vector<int>>& sets) {
  const auto holds = [&](ContactId c) { return state == nullptr || state->made(c); };
  std::map<int, std::vector<ContactId>> have_to_go;
  for (const Hold& hold : holds_) {
    const ContactId c = hold.of.front();
    if (!hold.always() || hold.of.size() > 1 || !holds(c) || undoer_.list().contact(c).kind != ContactKind::hole) {
      continue;
    }
    have_to_go[element_of(c)].push_back(c);
  }
  for (auto& [element, contacts] : have_to_go) {
    std::sort(contacts.begin(), contacts.end());
    for (const auto& set : further_slides(element, contacts)) {
      if (std::all_of(set.begin(), set.end() - 1, holds)) sets.push_back(set);
    }
  }
}

/// So many moves as there are contacts of which no two ever go in one move. With two more that do so only once one of
/// each of some sets has gone: two moves more, or one of each.
const std::vector<std::vector<int>>& HoldSets::further_slides(int element, const std::vector<ContactId>& of) {
  const auto [found, fresh] = further_.try_emplace(of);
  std::vector<std::vector<int>>& sets = found->second;
  if (!fresh) return sets;
  const auto elements = static_cast<int>(undoer_.list().contacts.size() + brought_in_.size());
  /// One of the set, or as many moves.
  const auto put = [&](std::vector<ContactId> set, std::size_t moves) {
    if (moves < 2 || moves >= 2 + kFurther) return;
    set.push_back(elements + element * static_cast<int>(kFurther) + static_cast<int>(moves) - 2);
    sets.push_back(std::move(set));
  };
  const auto never = [&](ContactId c, ContactId d) { return shared_.needed(c, d).least == SharedSlides::kNever; };
  const auto many = static_cast<std::ptrdiff_t>(std::min(of.size(), kContactsOfElement));
  const std::vector<ContactId> looked_at(of.begin(), of.begin() + many);
  std::vector<ContactId> apart;
  for (const ContactId c : looked_at) {
    if (!std::all_of(apart.begin(), apart.end(), [&](ContactId d) { return never(c, d); })) continue;
    apart.push_back(c);
    put({}, apart.size());
  }
  for (const ContactId c : looked_at) {
    for (const ContactId d : looked_at) {
      if (c >= d || never(c, d)) continue;
      const auto others = std::count_if(apart.begin(), apart.end(),
                                        [&](ContactId e) { return e != c && e != d && never(c, e) && never(d, e); });
      for (const auto& set : shared_.needed(c, d).one_of_each) put(set, static_cast<std::size_t>(others) + 2);
    }
  }
  return sets;
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
  add_further_slides(nullptr, sets);
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
  add_further_slides(&state, sets);
  const std::size_t looked_at = sets.size() + implied.size();
  if (looked_at > kFewSetsOfBound) bound_work_ += static_cast<long long>(looked_at * looked_at);
  return smallest_hitting_set(sets, implied, nodes).at_least;
}

}  // namespace dryfit::planner
