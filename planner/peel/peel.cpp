#include "planner/peel/peel.hpp"

#include <utility>

#include "planner/peel/peeler.hpp"

namespace dryfit::planner {

Peeling peel(Undoer& undoer, State& state, const std::vector<char>* frozen) {
  Peeling result;
  const std::vector<char> nothing(undoer.list().contacts.size(), 0);
  Peeler peeler(undoer, std::move(state), frozen != nullptr ? *frozen : nothing);
  peeler.run(&result.moves);
  state = peeler.state();
  result.remaining = peeler.remaining();
  for (const ContactId c : result.remaining) result.refusals.push_back(peeler.refusals(c));
  return result;
}

}  // namespace dryfit::planner
