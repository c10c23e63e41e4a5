#include "planner/early/count_orders.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <random>
#include <vector>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

using Made = std::vector<char>;
using Moves = std::vector<std::vector<ContactId>>;

Made after(Made made, const std::vector<ContactId>& move) {
  for (const ContactId c : move) made[dryfit::at(c)] = 0;
  return made;
}

/// Orders from one state down to nothing.
struct Ways {
  std::uint64_t exact = 0;
  bool fits = true;  ///< exact did not overflow
  long double about = 0.0L;
  void add(const Ways& other) {
    fits = fits && other.fits && exact <= std::numeric_limits<std::uint64_t>::max() - other.exact;
    exact += other.exact;
    about += other.about;
  }
};

/// All states that can be reached, or nullopt when there are more than allowed.
std::optional<std::map<Made, Moves>> all_states(UndoRules& rules, long long most, Foreman* foreman) {
  std::map<Made, Moves> states;
  std::vector<Made> open{Made(dryfit::at(rules.contacts()), 1)};
  states.try_emplace(open.front());
  while (!open.empty()) {
    if (!may_go_on(foreman, static_cast<long long>(states.size()), most)) return std::nullopt;
    const Made at = std::move(open.back());
    open.pop_back();
    Moves moves = rules.moves(at);
    for (const auto& move : moves) {
      Made next = after(at, move);
      if (!states.try_emplace(next).second) continue;
      if (static_cast<long long>(states.size()) > most) return std::nullopt;
      open.push_back(std::move(next));
    }
    states[at] = std::move(moves);
  }
  return states;
}

void estimate(UndoRules& rules, const CountLimits& limits, OrderCount& result) {
  std::mt19937 rng(limits.seed);
  std::vector<long double> weights;
  long long asked = 0;
  const auto n = dryfit::at(rules.contacts());
  while (result.samples < limits.samples && asked < limits.moves_asked &&
         may_go_on(limits.foreman, result.samples, limits.samples)) {
    Made made(n, 1);
    long double weight = 1.0L;
    auto left = static_cast<long long>(n);
    while (left > 0) {
      const Moves moves = rules.moves(made);
      asked += left;
      if (moves.empty()) break;  // cannot be: what can be put together comes apart however it is begun
      weight *= static_cast<long double>(moves.size());
      const auto& move = moves[rng() % moves.size()];
      left -= static_cast<long long>(move.size());
      made = after(std::move(made), move);
    }
    if (left > 0) {
      result.none = true;
      return;
    }
    weights.push_back(weight);
    ++result.samples;
  }
  long double mean = 0.0L, square = 0.0L;
  for (const long double w : weights) mean += w / static_cast<long double>(weights.size());
  for (const long double w : weights) square += (w / mean - 1.0L) * (w / mean - 1.0L);
  result.log10_orders = static_cast<double>(std::log10(mean));
  if (weights.size() < 2) return;
  const auto count = static_cast<long double>(weights.size());
  result.relative_error = static_cast<double>(std::sqrt(square / (count - 1.0L) / count));
}

}  // namespace

OrderCount count_orders(UndoRules& rules, const CountLimits& limits) {
  OrderCount result;
  const auto states = all_states(rules, limits.states, limits.foreman);
  if (!states) {
    result.states = limits.states;
    estimate(rules, limits, result);
    return result;
  }
  result.states = static_cast<long long>(states->size());
  // Moves only take contacts away: in ascending order what a state leads to comes before it.
  std::map<Made, Ways> ways;
  const Made nothing(dryfit::at(rules.contacts()), 0);
  for (const auto& [at, moves] : *states) {
    Ways sum;
    if (at == nothing) sum = {1, true, 1.0L};
    for (const auto& move : moves) sum.add(ways.at(after(at, move)));
    ways.emplace(at, sum);
  }
  const Ways& all = ways.at(Made(dryfit::at(rules.contacts()), 1));
  result.counted = true;
  result.none = all.about == 0.0L;
  if (all.fits) result.exact = all.exact;
  if (!result.none) result.log10_orders = static_cast<double>(std::log10(all.about));
  return result;
}

}  // namespace dryfit::planner
