#include "planner/early/swap_price.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/early/fewest.hpp"

namespace dryfit::planner {
namespace {

bool touches(const State& state, const ContactList& list, const NamedPart& part, const std::vector<ContactId>& step) {
  return std::any_of(step.begin(), step.end(), [&](ContactId c) {
    return std::any_of(part.parts.begin(), part.parts.end(), [&](PartId p) {
      return state.cluster(p) == state.cluster(list.vertex(list.contact(c).a));
    });
  });
}

/// A pipe is passed through boards and screwed in: two moves in one step.
bool two_moves(const ContactList& list, const std::vector<ContactId>& step) {
  return std::any_of(step.begin(), step.end(), [&](ContactId c) {
    return list.contact(c).kind !=
           list.contact(step.front()).kind;
  });
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
      // The step itself can be undone first: a pipe passed and screwed in by two moves, everything else by one.
      const int by_the_step = price.after[k].at_most + (two_moves(list, steps[k]) ? 2 : 1);
      now = {fewest.at_least, std::max(fewest.at_least, std::min(fewest.at_most(), by_the_step))};
    }
  }
  return prices;
}

}  // namespace dryfit::planner
