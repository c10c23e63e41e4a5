#include "planner/early/swap_price.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/early/fewest.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {
namespace {

bool touches(const State& state, const ContactList& list, const NamedPart& part, const std::vector<ContactId>& step) {
  return std::any_of(step.begin(), step.end(), [&](ContactId c) {
    return std::any_of(part.parts.begin(), part.parts.end(),
                       [&](PartId p) { return state.cluster(p) == state.cluster(list.vertex(list.contact(c).a)); });
  });
}

/// Moves that take the step back and nothing else: a pipe that is passed through boards and screwed in takes two.
/// kNone when it does not come off alone.
int moves_back(Undoer& undoer, State after, const std::vector<ContactId>& step) {
  std::vector<char> frozen = after.all();
  for (const ContactId c : step) frozen[at(c)] = 0;
  const Peeling back = peel(undoer, after, &frozen);
  return after.all() == frozen ? static_cast<int>(back.moves.size()) : model::kNone;
}

}  // namespace

std::vector<SwapPrice> swap_prices(Undoer& undoer, const std::vector<NamedPart>& parts,
                                   const std::vector<std::vector<ContactId>>& steps, long long budget, long long total,
                                   Foreman* foreman) {
  const ContactList& list = undoer.list();
  std::vector<SwapPrice> prices;
  for (const NamedPart& part : parts) {
    prices.push_back({part, std::vector<SwapPoint>(steps.size() + 1), 0});
  }
  const long long begun = undoer.work().attempts;
  std::vector<char> made(list.contacts.size(), 0);
  for (std::size_t k = 0; k < steps.size(); ++k) {
    for (const ContactId c : steps[k]) made[at(c)] = 1;
    const State state(list, made);
    const int back = moves_back(undoer, state, steps[k]);
    for (SwapPrice& price : prices) {
      SwapPoint& now = price.after[k + 1];
      now = price.after[k];
      const bool on = std::any_of(price.part.contacts.begin(), price.part.contacts.end(),
                                  [&](ContactId c) { return state.made(c); });
      if (!on || !touches(state, list, price.part, steps[k])) continue;
      if (price.first_on == 0) price.first_on = static_cast<int>(k) + 1;
      const bool spent = undoer.work().attempts - begun > total ||
                         !may_go_on(foreman, static_cast<long long>(k), static_cast<long long>(steps.size()));
      const FewestMoves fewest = fewest_moves(undoer, state, price.part.contacts, spent ? 1 : budget);
      now = {fewest.at_least, fewest.at_most()};
      // The step itself can be undone first, and then what the part cost before it.
      if (back != model::kNone) now.at_most = std::min(now.at_most, price.after[k].at_most + back);
    }
  }
  return prices;
}

}  // namespace dryfit::planner
