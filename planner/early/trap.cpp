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
  Price result;
  result.depth = fewest_moves(undoer, State(undoer.list()), part.contacts, budget, known);
  const auto own = [&](ContactId c) { return std::binary_search(part.contacts.begin(), part.contacts.end(), c); };
  int own_moves = 0;
  for (const Move& move : result.depth.moves) {
    if (std::all_of(move.contacts.begin(), move.contacts.end(), own)) {
      ++own_moves;
      continue;
    }
    ++result.price;
    std::copy_if(move.contacts.begin(), move.contacts.end(), std::back_inserter(result.comes_off),
                 [&](ContactId c) { return !own(c); });
  }
  result.at_least = std::max(0, result.depth.at_least - own_moves);
  return result;
}

EarlyPart early_facts(Undoer& undoer, const NamedPart& part, const StepContacts& steps, const EarlyBudget& budget) {
  EarlyPart early;
  early.part = part;
  early.last_call = last_call(undoer, part.contacts, steps);
  if (budget.most_lockouts > 0) {
    early.lockouts =
        lockouts_of(undoer, part.contacts, budget.most_lockouts, budget.widest_lockout, budget.lockouts, budget.known);
  }
  Price price = price_of(undoer, part, budget.price, budget.known);
  early.depth = std::move(price.depth);
  early.price = price.price;
  early.price_at_least = price.at_least;
  early.comes_off = std::move(price.comes_off);
  return early;
}

std::vector<std::size_t> traps_worst_first(const std::vector<EarlyPart>& parts) {
  std::vector<std::size_t> traps;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].last_call.trap) traps.push_back(i);
  }
  std::stable_sort(traps.begin(), traps.end(), [&](std::size_t a, std::size_t b) {
    const auto rank = [&](std::size_t i) {
      return std::tuple(-parts[i].price, !parts[i].part.board, parts[i].last_call.step);
    };
    return rank(a) < rank(b);
  });
  return traps;
}

FewestMoves price_when_closed(Undoer& undoer, const std::vector<ContactId>& own, const std::vector<char>& made,
                              long long budget) {
  Wanted wanted;
  wanted.unmet = [&](const State& state) -> std::vector<ContactId> {
    const HalfBuilt now = half_built(undoer, own, state.all());
    if (!now.closed) return {};
    return now.held_by.empty() ? std::vector<ContactId>{model::kNone} : now.held_by;
  };
  return fewest_moves(undoer, State(undoer.list(), made), wanted, budget);
}

}  // namespace dryfit::planner
