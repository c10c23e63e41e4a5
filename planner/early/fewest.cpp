#include "planner/early/fewest.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <queue>
#include <set>
#include <tuple>

#include "model/geometry/at.hpp"
#include "planner/early/hitting_set.hpp"
#include "planner/early/shared_slides.hpp"
#include "planner/peel/holds.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

constexpr long long kHittingSetNodes = 20000;

class Fewest {
 public:
  Fewest(Undoer& undoer, const State& from, const Wanted& wanted, long long budget, const RefusalMemory* known)
      : undoer_(undoer),
        from_(from),
        wanted_(wanted),
        shared_(undoer, from.all()),
        memory_(known != nullptr ? *known : RefusalMemory(from.all().size())),
        start_(undoer.work().attempts),
        budget_(budget) {
    std::set<ContactId> gone;
    for (const ContactId c : wanted.gone) {
      if (from.made(c)) gone.insert(c);
    }
    for (const ContactId c : gone) {
      goals_.push_back({c});
      holds_.push_back({c});
    }
  }

  FewestMoves run() {
    FewestMoves result;
    if (!break_holds()) return result;
    // So far every board counted as a move of its own. Several may leave in one move; that matters only where the
    // moves which such a one takes are fewer than the best way found.
    let_share();
    if (!break_holds()) return result;
    if (at_least_ < static_cast<int>(best_.size())) search_states();
    result.possible = true;
    result.at_least = at_least_;
    result.moves = std::move(best_);
    result.proven = at_least_ == result.at_most();
    result.tries = spent();
    return result;
  }

 private:
  [[nodiscard]] long long spent() const { return undoer_.work().attempts - start_; }
  [[nodiscard]] const Contact& contact(ContactId c) const {
    return undoer_.list().contact(c);
  }

  /// What a hold is broken with, as one number: a thread, nut or fastening takes a move of its own; all hole-like
  /// contacts and rests of boards that may leave in one move count as one.
  int element_of(ContactId c) {
    const Contact& k = contact(c);
    if (takes_own_move(k.kind)) return c;
    const int board = undoer_.frame().part(k.a).board;
    if (group_of_.empty()) {
      group_of_.resize(undoer_.frame().boards.size());
      std::iota(group_of_.begin(), group_of_.end(), 0);
    }
    if (std::find(boards_.begin(), boards_.end(), board) == boards_.end()) {
      for (const int other : boards_) {
        if (group(board) != group(other) && may_share(board, other)) {
          group_of_[at(group(board))] = group(other);
          elements_.clear();  // those of earlier holds have other numbers now
        }
      }
      boards_.push_back(board);
    }
    return static_cast<int>(undoer_.list().contacts.size()) + group(board);
  }
  [[nodiscard]] bool may_share(int board, int other) {
    return found_ && shared_.least_before(board, other) < static_cast<int>(share_below_) - 1;
  }
  /// From now on boards that may leave in one move count as one, where a way with such a move can be shorter than the
  /// best found: that move is one, and those before it must leave one fewer at least.
  void let_share() {
    share_below_ = best_.size();
    boards_.clear();
    group_of_.clear();
    elements_.clear();
  }
  [[nodiscard]] bool is_picked(ContactId c, const std::set<int>& picked) {
    const Contact& k = contact(c);
    if (!takes_own_move(k.kind)) {
      const int board = undoer_.frame().part(k.a).board;
      if (std::find(boards_.begin(), boards_.end(), board) == boards_.end()) return false;  // in no hold yet
    }
    return picked.contains(element_of(c));
  }
  int group(int board) {
    while (group_of_[at(board)] != board) board = group_of_[at(board)];
    return board;
  }

  /// The holds as sets of elements. Only what came since the last call is worked out, unless groups merge.
  const std::vector<std::vector<int>>& hold_elements() {
    for (std::size_t h = elements_.size(); h < holds_.size(); ++h) {  // first all boards, since groups may merge
      for (const ContactId c : holds_[h]) element_of(c);
    }
    for (std::size_t h = elements_.size(); h < holds_.size(); ++h) {
      std::vector<int>& set = elements_.emplace_back();
      for (const ContactId c : holds_[h]) set.push_back(element_of(c));
    }
    return elements_;
  }
  /// Those of the holds that are not broken in the state.
  std::vector<std::vector<int>> hold_elements(const State& state) {
    const auto& all = hold_elements();
    std::vector<std::vector<int>> sets;
    for (std::size_t h = 0; h < holds_.size(); ++h) {
      const auto& hold = holds_[h];
      if (std::all_of(hold.begin(), hold.end(), [&](ContactId c) { return state.made(c); })) sets.push_back(all[h]);
    }
    return sets;
  }

  /// A goal not reached in the state: made contacts of which one has to go. nullopt: the state is as wanted.
  std::optional<std::vector<ContactId>> open_goal(const State& state) {
    for (const auto& goal : goals_) {
      if (std::all_of(goal.begin(), goal.end(), [&](ContactId c) { return state.made(c); })) return goal;
    }
    if (!wanted_.unmet) return std::nullopt;
    std::vector<ContactId> goal = wanted_.unmet(state);
    if (goal.empty()) return std::nullopt;
    std::sort(goal.begin(), goal.end());
    if (goal.front() == model::kNone) return std::vector<ContactId>{};
    goals_.push_back(goal);
    return goal;
  }

  /// The smallest hold that follows from the goals not reached in a peeler that has run; nullopt: all is as wanted.
  std::optional<std::vector<ContactId>> next_hold(const Peeler& peeler) {
    auto goal = open_goal(peeler.state());
    if (!goal || goal->empty()) return goal;
    std::vector<ContactId> best = hold_on(peeler, *goal);
    for (const auto& other : goals_) {
      if (std::any_of(other.begin(), other.end(), [&](ContactId c) { return !peeler.made(c); })) continue;
      std::vector<ContactId> hold = hold_on(peeler, other);
      if (hold.size() < best.size()) best = std::move(hold);
    }
    return best;
  }

  /// Finds holds until the smallest way to break them all leads to a state as wanted. False when nothing ever does.
  bool break_holds() {
    const std::vector<char> frozen(undoer_.list().contacts.size(), 1);
    while (true) {
      const HittingSet hitting = smallest_hitting_set(hold_elements(), kHittingSetNodes);
      if (found_) {
        at_least_ = std::max(at_least_, hitting.at_least);
        if (at_least_ >= static_cast<int>(best_.size())) return true;
      }
      const std::set<int> picked(hitting.elements.begin(), hitting.elements.end());
      Peeler trial(undoer_, from_, frozen, &memory_);
      for (ContactId c = 0; c < static_cast<ContactId>(frozen.size()); ++c) {
        if (from_.made(c) && is_picked(c, picked)) trial.release(c);
      }
      trial.run();
      auto hold = next_hold(trial);
      if (!hold) {
        keep(trimmed(trial.undone()));
        return true;
      }
      // Holds that have nothing in common, until all of them together would do.
      while (hold) {
        // A peeling each time, and worth it: a hold as first told is wide, and wide ones say little.
        if (hold->size() > 1) hold = tightened(undoer_, trial.state(), std::move(*hold), memory_);
        if (hold->empty()) return false;
        holds_.push_back(*hold);
        for (const ContactId c : *hold) trial.release(c);
        trial.run();
        hold = next_hold(trial);
      }
      if (spent() > budget_) {  // undoing a contact of every hold known is a way, if not a short one
        if (!found_) keep(trimmed(trial.undone()));
        return true;
      }
    }
  }

  /// Leaves out moves, last first, that are not needed.
  std::vector<std::vector<ContactId>> trimmed(std::vector<std::vector<ContactId>> moves) {
    std::vector<char> frozen(undoer_.list().contacts.size(), 1);
    for (const auto& move : moves) {
      for (const ContactId c : move) frozen[at(c)] = 0;
    }
    std::vector<std::vector<ContactId>> best = moves;
    for (auto move = moves.rbegin(); move != moves.rend() && spent() <= 2 * budget_; ++move) {
      std::vector<char> more = frozen;
      for (const ContactId c : *move) more[at(c)] = 1;
      Peeler peeler(undoer_, from_, more, &memory_);
      peeler.run();
      if (open_goal(peeler.state())) continue;
      frozen = std::move(more);
      best = peeler.undone();
    }
    return best;
  }

  /// Replays sets of contacts as moves and keeps them when they are the best so far.
  void keep(const std::vector<std::vector<ContactId>>& sets) {
    if (found_ && best_.size() <= sets.size()) return;
    found_ = true;
    best_.clear();
    State state = from_;
    for (const auto& set : sets) best_.push_back(take(state, set));
  }
  Move take(State& state, const std::vector<ContactId>& set) {
    const std::set<ContactId> wanted(set.begin(), set.end());
    for (Move& move : undoer_.ways(state, set.front())) {
      if (std::set<ContactId>(move.contacts.begin(), move.contacts.end()) != wanted) continue;
      state.undo(move.contacts);
      return std::move(move);
    }
    Move move;  // cannot be: the peeler has just made this very move
    move.contacts = set;
    state.undo(set);
    return move;
  }

  /// Contacts that may matter now: the wanted ones, and whatever a refused way of one of them waits for. A contact that
  /// none of them waits for can wait itself. `last`: only moves of wanted ones, since no move is left after this one.
  std::vector<std::vector<ContactId>> useful_moves(const State& state, bool last) {
    std::vector<char> seen(state.all().size(), 0);
    std::vector<ContactId> open;
    const auto add = [&](ContactId c) {
      if (!state.made(c) || seen[at(c)] != 0) return;
      seen[at(c)] = 1;
      open.push_back(c);
    };
    if (const auto goal = open_goal(state)) {
      for (const ContactId c : *goal) add(c);
    }
    std::set<std::vector<ContactId>> sets;
    for (std::size_t i = 0; i < open.size(); ++i) {
      std::vector<Refusal> refusals;
      for (Move& move : undoer_.ways(state, open[i], &refusals)) {
        std::sort(move.contacts.begin(), move.contacts.end());
        sets.insert(std::move(move.contacts));
      }
      if (last) continue;
      for (const Refusal& refusal : refusals) {
        for (const ContactId c : refusal.held_by) add(c);
      }
    }
    return {sets.begin(), sets.end()};
  }

  /// Best-first over states, bounded below by the holds that are not broken yet.
  void search_states() {
    struct Node {
      int total;  ///< moves so far and bound
      int done;
      std::size_t index;
    };
    struct Seen {
      std::vector<char> made;
      std::size_t parent;
      std::vector<ContactId> move;
      int done;
    };
    const auto later = [](const Node& a, const Node& b) {
      return std::tuple(a.total, -a.done, a.index) > std::tuple(b.total, -b.done, b.index);
    };
    std::priority_queue<Node, std::vector<Node>, decltype(later)> queue(later);
    std::vector<Seen> seen;
    std::map<std::vector<char>, int> fewest;
    const auto bound = [&](const State& state) { return smallest_hitting_set(hold_elements(state), 200).at_least; };
    const auto add = [&](const State& state, std::size_t parent, std::vector<ContactId> move, int done) {
      const auto [found, fresh] = fewest.try_emplace(state.all(), done);
      if (!fresh && found->second <= done) return;
      found->second = done;
      const int total = done + bound(state);
      if (total >= static_cast<int>(best_.size())) return;
      seen.push_back({state.all(), parent, std::move(move), done});
      queue.push({total, done, seen.size() - 1});
    };
    add(from_, 0, {}, 0);
    while (!queue.empty()) {
      const Node node = queue.top();
      queue.pop();
      if (node.total >= static_cast<int>(best_.size())) break;
      at_least_ = std::max(at_least_, node.total);
      if (spent() > budget_) return;
      const std::vector<char> made = seen[node.index].made;
      if (fewest.at(made) < node.done) continue;
      const State state(undoer_.list(), made);
      if (!open_goal(state)) {
        std::vector<std::vector<ContactId>> way;
        for (std::size_t i = node.index; i != 0; i = seen[i].parent) way.push_back(seen[i].move);
        std::reverse(way.begin(), way.end());
        keep(way);
        break;
      }
      const bool last = node.done + 2 >= static_cast<int>(best_.size());  // what is longer improves nothing
      for (const auto& move : useful_moves(state, last)) {
        State next = state;
        next.undo(move);
        add(next, node.index, move, node.done + 1);
      }
    }
    at_least_ = static_cast<int>(best_.size());
  }

  Undoer& undoer_;
  const State& from_;
  const Wanted& wanted_;
  std::vector<std::vector<ContactId>> goals_;  ///< sets of which at least one contact has to go
  SharedSlides shared_;
  RefusalMemory memory_;
  long long start_;
  long long budget_;
  std::vector<std::vector<ContactId>> holds_;  ///< each of contacts that were made to begin with
  std::vector<std::vector<int>> elements_;     ///< of the holds, as far as worked out
  std::vector<int> boards_;
  std::vector<int> group_of_;
  std::size_t share_below_ = 0;
  bool found_ = false;
  std::vector<Move> best_;
  int at_least_ = 0;
};

}  // namespace

FewestMoves fewest_moves(Undoer& undoer, const State& from, const Wanted& wanted, long long budget,
                         const RefusalMemory* known) {
  return Fewest(undoer, from, wanted, budget, known).run();
}

FewestMoves fewest_moves(Undoer& undoer, const State& from, const std::vector<ContactId>& gone, long long budget,
                         const RefusalMemory* known) {
  return fewest_moves(undoer, from, Wanted{gone, {}}, budget, known);
}

}  // namespace dryfit::planner
