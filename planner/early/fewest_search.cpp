#include "planner/early/fewest_search.hpp"

#include <algorithm>
#include <map>
#include <queue>
#include <set>
#include <tuple>

#include "model/geometry/at.hpp"
#include "planner/early/slide_split.hpp"

namespace dryfit::planner {
namespace {

/// Work for the bound of one state, in nodes of the hitting set's search.
constexpr long long kBoundNodes = 200;

class Search {
 public:
  Search(Undoer& undoer, const State& from, const std::vector<char>& free, Goals& goals, HoldSets& holds, int below,
         const std::function<bool()>& go_on)
      : undoer_(undoer),
        from_(from),
        free_(free),
        some_free_(std::any_of(free.begin(), free.end(), [](char f) { return f != 0; })),
        goals_(goals),
        holds_(holds),
        below_(below),
        go_on_(go_on) {}

  SearchedStates run() {
    begin();
    while (!queue_.empty()) {
      const Node node = queue_.top();
      queue_.pop();
      if (node.total >= below_) break;
      result_.at_least = std::max(result_.at_least, node.total);
      if (!go_on_()) return std::move(result_);
      const std::vector<char> made = seen_[node.index].made;
      if (fewest_.at(made) < node.paid) continue;
      ++result_.states;
      const State state(undoer_.list(), made);
      const auto goal = goals_.open(state);
      if (asks_more_than_before()) {
        begin();
        continue;
      }
      if (!goal) {
        result_.found = true;
        result_.way = way_to(node.index);
        result_.at_least = node.paid;
        return std::move(result_);
      }
      const bool last = !some_free_ && node.paid + 2 >= below_;
      for (const auto& move : useful_moves(state, goal->of, last)) {
        State next = state;
        next.undo(move);
        add(next, node.index, move, node.paid + (costs(move) ? 1 : 0));
      }
    }
    result_.at_least = below_;
    return std::move(result_);
  }

 private:
  void begin() {
    queue_ = {};
    seen_.clear();
    fewest_.clear();
    result_.at_least = 0;
    add(from_, 0, {}, 0);
  }

  /// States told of a contact that is better not undone, besides those known. What was done so far may have undone it
  /// along with others without need.
  bool asks_more_than_before() {
    const std::size_t before = asking_.size();
    for (const Hold& goal : goals_.all()) {
      if (!goal.always()) asking_.insert(goal.once_gone);
    }
    return asking_.size() != before;
  }

  struct Node {
    int total;  ///< paid so far and bound
    int paid;
    std::size_t index;
  };
  struct Later {
    bool operator()(const Node& a, const Node& b) const {
      return std::tuple(a.total, -a.paid, a.index) > std::tuple(b.total, -b.paid, b.index);
    }
  };
  struct Seen {
    std::vector<char> made;
    std::size_t parent;
    std::vector<ContactId> move;
  };
  using Sets = std::set<std::vector<ContactId>>;

  [[nodiscard]] bool costs(const std::vector<ContactId>& move) const {
    return std::any_of(move.begin(), move.end(), [&](ContactId c) { return free_[at(c)] == 0; });
  }

  void add(const State& state, std::size_t parent, std::vector<ContactId> move, int paid) {
    const auto [found, fresh] = fewest_.try_emplace(state.all(), paid);
    if (!fresh && found->second <= paid) return;
    found->second = paid;
    const int total = paid + holds_.at_least(state, kBoundNodes);
    if (total >= below_) return;
    seen_.push_back({state.all(), parent, std::move(move)});
    queue_.push({total, paid, seen_.size() - 1});
  }

  [[nodiscard]] std::vector<std::vector<ContactId>> way_to(std::size_t index) const {
    std::vector<std::vector<ContactId>> way;
    for (std::size_t i = index; i != 0; i = seen_[i].parent) way.push_back(seen_[i].move);
    std::reverse(way.begin(), way.end());
    return way;
  }

  /// Moves of contacts that may matter now: those of the goal, and whatever a refused way of one of them waits for.
  /// The first move of the best way that undoes one of these can be done now as well, for nothing that it rests on has
  /// changed; and doing it now makes no other move dearer, unless it parts what would have slid as one. Then all moves
  /// are tried; so they are where a move takes more along than it should: another may take less once what does not hold
  /// it up is gone. `last`: no move that costs is left after this one, so only moves of the goal help.
  Sets useful_moves(const State& state, const std::vector<ContactId>& goal, bool last) {
    std::vector<char> seen(state.all().size(), 0);
    std::vector<ContactId> open;
    const auto put = [&](ContactId c) {
      if (!state.made(c) || seen[at(c)] != 0) return;
      seen[at(c)] = 1;
      open.push_back(c);
    };
    for (const ContactId c : goal) put(c);
    Sets sets;
    bool too_much = false;
    for (std::size_t i = 0; i < open.size(); ++i) {
      std::vector<Refusal> refusals;
      for (Move& move : undoer_.ways(state, open[i], &refusals)) {
        too_much |= takes_too_much(move.contacts);
        if (!may_go(move)) continue;
        std::sort(move.contacts.begin(), move.contacts.end());
        sets.insert(std::move(move.contacts));
      }
      if (last) continue;
      for (const Refusal& refusal : refusals) {
        for (const ContactId c : refusal.held_by) put(c);
      }
    }
    const auto parts = [&](const auto& set) { return parts_a_slide(undoer_.frame(), state, set); };
    if (last || (!too_much && std::none_of(sets.begin(), sets.end(), parts))) {
      return sets;
    }
    return all_moves(state);
  }

  /// Something of it has to stay made, or asks for more once it is gone, or the rest alone would cost nothing.
  [[nodiscard]] bool takes_too_much(const std::vector<ContactId>& move) const {
    if (move.size() < 2) return false;
    const auto is_free = [&](ContactId c) { return free_[at(c)] != 0; };
    return (costs(move) && std::any_of(move.begin(), move.end(), is_free)) ||
           std::any_of(move.begin(), move.end(), [&](ContactId c) { return goals_.keeps(c) || asking_.contains(c); });
  }

  [[nodiscard]] bool may_go(const Move& move) const {
    return std::none_of(move.contacts.begin(), move.contacts.end(), [&](ContactId c) { return goals_.keeps(c); });
  }

  Sets all_moves(const State& state) {
    Sets sets;
    for (Move& move : undoer_.all_moves(state)) {
      if (!may_go(move)) continue;
      std::sort(move.contacts.begin(), move.contacts.end());
      sets.insert(std::move(move.contacts));
    }
    return sets;
  }

  Undoer& undoer_;
  const State& from_;
  const std::vector<char>& free_;
  bool some_free_;
  Goals& goals_;
  HoldSets& holds_;
  int below_;
  const std::function<bool()>& go_on_;
  SearchedStates result_;
  std::priority_queue<Node, std::vector<Node>, Later> queue_;
  std::vector<Seen> seen_;
  std::map<std::vector<char>, int> fewest_;
  std::set<ContactId> asking_;  ///< ask for others once they are gone, as far as told
};

}  // namespace

SearchedStates search_states(Undoer& undoer, const State& from, const std::vector<char>& free, Goals& goals,
                             HoldSets& holds, int below, const std::function<bool()>& go_on) {
  return Search(undoer, from, free, goals, holds, below, go_on).run();
}

}  // namespace dryfit::planner
