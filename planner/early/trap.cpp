#include "planner/early/trap.hpp"

#include <algorithm>
#include <iterator>
#include <tuple>

namespace dryfit::planner {

RefusalMemory refusals_when_whole(Undoer& undoer) {
  const State whole(undoer.list());
  RefusalMemory memory(whole.all().size());
  for (ContactId c = 0; c < static_cast<ContactId>(whole.all().size()); ++c) {
    Attempt attempt = undoer.try_undo(whole, c);
    if (!attempt.legal) memory.keep(c, std::make_shared<const Refusals>(std::move(attempt.refusals)));
  }
  return memory;
}

Price price_of(Undoer& undoer, const NamedPart& part, long long budget, const RefusalMemory* known) {
  Price price;
  price.out = fewest_moves(undoer, State(undoer.list()), Wanted{part.contacts, part.contacts, {}}, budget, known);
  const auto own = [&](ContactId c) { return std::binary_search(part.contacts.begin(), part.contacts.end(), c); };
  for (const Move& move : price.out.moves) {
    std::copy_if(move.contacts.begin(), move.contacts.end(), std::back_inserter(price.comes_off),
                 [&](ContactId c) { return !own(c); });
  }
  return price;
}

EarlyPart early_facts(Undoer& undoer, const NamedPart& part, const StepContacts& steps, const EarlyBudget& budget) {
  EarlyPart early;
  early.part = part;
  early.last_call = last_call(undoer, part.contacts, steps);
  if (budget.most_lockouts > 0) {
    early.lockouts =
        lockouts_of(undoer, part.contacts, budget.most_lockouts, budget.widest_lockout, budget.lockouts, budget.known);
  }
  early.depth = fewest_moves(undoer, State(undoer.list()), part.contacts, budget.price, budget.known);
  early.price = price_of(undoer, part, budget.price, budget.known);
  return early;
}

std::vector<std::size_t> traps_worst_first(const std::vector<EarlyPart>& parts) {
  std::vector<std::size_t> traps;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].last_call.trap) traps.push_back(i);
  }
  std::stable_sort(traps.begin(), traps.end(), [&](std::size_t a, std::size_t b) {
    const auto rank = [&](std::size_t i) {
      return std::tuple(-parts[i].price.at_most(), !parts[i].part.board, parts[i].last_call.step);
    };
    return rank(a) < rank(b);
  });
  return traps;
}

FewestMoves price_when_closed(Undoer& undoer, const std::vector<ContactId>& own, const std::vector<char>& made,
                              long long budget) {
  Wanted wanted;
  wanted.unmet = [&](const State& state) -> std::optional<Hold> {
    const HalfBuilt now = half_built(undoer, own, state.all());
    if (!now.closed) return std::nullopt;
    return Hold{now.held_by, now.stuck};
  };
  return fewest_moves(undoer, State(undoer.list(), made), wanted, budget);
}

}  // namespace dryfit::planner
