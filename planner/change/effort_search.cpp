#include "planner/change/effort_search.hpp"

#include <algorithm>
#include <queue>
#include <string>
#include <tuple>
#include <unordered_map>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

using model::kNone;

/// Costs that differ by less are equal.
constexpr double kSame = 1e-9;

std::string key_of(const std::vector<char>& made) { return {made.begin(), made.end()}; }

class Search {
 public:
  Search(UndoCost& cost, const ContactList& list, const EffortTask& task) : cost_(cost), list_(list), task_(task) {}

  SearchedEffort run() {
    add({task_.built, 0.0, kNone, {}});
    while (!open_.empty()) {
      const auto [estimate, minus_paid, index] = open_.top();
      open_.pop();
      const Node node = nodes_[at(index)];
      if (node.paid > best_[key_of(node.made)] + kSame) continue;
      if (estimate >= task_.below - kSame) break;
      result_.at_least = std::max(result_.at_least, estimate);
      ++result_.states;
      const State state(list_, node.made);
      if (task_.is_good(state)) {
        result_.found = true;
        result_.effort = node.paid;
        result_.moves = moves_to(index);
        return std::move(result_);
      }
      if (result_.states > task_.budget || !may_go_on(task_.foreman, result_.states, task_.budget)) {
        return std::move(result_);
      }
      for (auto& [move, price] : cost_.moves(state, task_.keep)) {
        Node next{node.made, node.paid + price, index, {}};
        for (const ContactId c : move.contacts) next.made[at(c)] = 0;
        next.by = std::move(move);
        add(std::move(next));
      }
    }
    result_.at_least = task_.below;
    return std::move(result_);
  }

 private:
  struct Node {
    std::vector<char> made;
    double paid = 0.0;
    int from = kNone;
    Move by;
  };
  using Entry = std::tuple<double, double, int>;  // estimate, minus paid (deeper first among equals), node

  void add(Node node) {
    const double total = node.paid + cost_.least(*task_.holds, State(list_, node.made));
    if (total >= task_.below - kSame) return;
    const auto [known, fresh] = best_.emplace(key_of(node.made), node.paid);
    if (!fresh && known->second <= node.paid + kSame) return;
    known->second = node.paid;
    open_.emplace(total, -node.paid, static_cast<int>(nodes_.size()));
    nodes_.push_back(std::move(node));
  }

  [[nodiscard]] std::vector<Move> moves_to(int index) const {
    std::vector<Move> moves;
    for (int n = index; nodes_[at(n)].from != kNone; n = nodes_[at(n)].from) moves.push_back(nodes_[at(n)].by);
    std::reverse(moves.begin(), moves.end());
    return moves;
  }

  UndoCost& cost_;
  const ContactList& list_;
  const EffortTask& task_;
  SearchedEffort result_;
  std::vector<Node> nodes_;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open_;
  std::unordered_map<std::string, double> best_;
};

}  // namespace

SearchedEffort search_effort(UndoCost& cost, const ContactList& list, const EffortTask& task) {
  return Search(cost, list, task).run();
}

}  // namespace dryfit::planner
