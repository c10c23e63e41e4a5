#include "tests/support/every/every_state.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::tests {

using planner::ContactId;

bool contains(const Made& whole, const Made& part) {
  for (std::size_t c = 0; c < whole.size(); ++c) {
    if (part[c] != 0 && whole[c] == 0) return false;
  }
  return true;
}

EveryState::EveryState(planner::UndoRules& rules, Made start, std::size_t most) {
  if (start.empty()) start.assign(dryfit::at(rules.contacts()), 1);
  std::vector<Made> front{start};
  states_[start].distance = 0;
  for (std::size_t i = 0; i < front.size(); ++i) {
    REQUIRE(front.size() <= most);
    const Made at = front[i];
    Reached& reached = states_[at];
    reached.moves = rules.moves(at);
    for (const auto& move : reached.moves) {
      Made next = at;
      for (const ContactId c : move) next[dryfit::at(c)] = 0;
      const auto [found, fresh] = states_.try_emplace(next);
      if (!fresh) continue;
      found->second.distance = reached.distance + 1;
      front.push_back(next);
    }
  }
}

bool EveryState::buildable() const { return states_.begin()->first == Made(states_.begin()->first.size(), 0); }

bool EveryState::never(const std::vector<ContactId>& made, const std::vector<ContactId>& gone) const {
  return std::none_of(states_.begin(), states_.end(), [&](const auto& entry) {
    const Made& at = entry.first;
    return std::all_of(made.begin(), made.end(), [&](ContactId c) { return at[dryfit::at(c)] != 0; }) &&
           std::none_of(gone.begin(), gone.end(), [&](ContactId c) { return at[dryfit::at(c)] != 0; });
  });
}

int EveryState::fewest(const std::vector<ContactId>& gone) const {
  int best = -1;
  for (const auto& [at, reached] : states_) {
    if (std::any_of(gone.begin(), gone.end(), [&](ContactId c) { return at[dryfit::at(c)] != 0; })) continue;
    if (best < 0 || reached.distance < best) best = reached.distance;
  }
  return best;
}

int EveryState::fewest_others(const std::vector<ContactId>& own) const {
  const auto is_own = [&](ContactId c) { return std::find(own.begin(), own.end(), c) != own.end(); };
  // Moves only take contacts away, so in descending order of what is made every state comes before those it leads to.
  std::map<Made, int> paid;
  for (const auto& [at, reached] : states_) {
    if (reached.distance == 0) paid[at] = 0;
  }
  int best = -1;
  for (auto entry = states_.rbegin(); entry != states_.rend(); ++entry) {
    const auto& [at, reached] = *entry;
    const auto here = paid.find(at);
    if (here == paid.end()) continue;
    const bool free =
        std::none_of(own.begin(), own.end(), [&](ContactId c) { return at[static_cast<std::size_t>(c)] != 0; });
    if (free && (best < 0 || here->second < best)) best = here->second;
    for (const auto& move : reached.moves) {
      Made next = at;
      for (const ContactId c : move) next[static_cast<std::size_t>(c)] = 0;
      const int cost = here->second + (std::all_of(move.begin(), move.end(), is_own) ? 0 : 1);
      const auto [found, fresh] = paid.emplace(next, cost);
      if (!fresh) found->second = std::min(found->second, cost);
    }
  }
  return best;
}

double EveryState::orders() const {
  // Moves only take contacts away, so states in ascending order of what is made come after those they lead to.
  std::map<Made, double> ways;
  for (const auto& [at, reached] : states_) {
    double sum = at == Made(at.size(), 0) ? 1.0 : 0.0;
    for (const auto& move : reached.moves) {
      Made next = at;
      for (const ContactId c : move) next[dryfit::at(c)] = 0;
      sum += ways.at(next);
    }
    ways[at] = sum;
  }
  // The start is the state with the most made; it is no other state's follower.
  double most = 0.0;
  for (const auto& [at, reached] : states_) {
    if (reached.distance == 0) most = ways.at(at);
  }
  return most;
}

}  // namespace dryfit::tests
