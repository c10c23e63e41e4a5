#include "planner/change/completion.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/peel/holds.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {

using model::kNone;

Completion::Completion(Undoer& new_undoer, const Matching& matching)
    : undoer_(new_undoer),
      matching_(matching),
      old_of_(new_undoer.list().contacts.size(), kNone),
      memory_(new_undoer.list().contacts.size()),
      knots_(new_undoer.list().contacts.size()) {
  for (std::size_t c = 0; c < matching.kept_as.size(); ++c) {
    if (matching.kept_as[c] != kNone) old_of_[at(matching.kept_as[c])] = static_cast<ContactId>(c);
  }
}

std::vector<char> Completion::image(const std::vector<char>& made) const {
  std::vector<char> result(old_of_.size(), 0);
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] != 0) result[at(matching_.kept_as[c])] = 1;
  }
  return result;
}

std::optional<Hold> Completion::unmet(const State& old_state) {
  Peeler peeler(undoer_, State(undoer_.list()), image(old_state.all()), &memory_);
  peeler.run();
  std::optional<Hold> best;
  for (ContactId d = 0; d < static_cast<ContactId>(old_of_.size()); ++d) {
    if (!peeler.made(d) || peeler.frozen(d)) continue;
    // It cannot be made any more. What no old contact stays as has to be made in any case.
    Hold hold{hold_on(peeler, {d}), old_of_[at(d)]};
    const auto rank = [](const Hold& h) { return std::pair(!h.always(), h.of.size()); };
    if (!best || rank(hold) < rank(*best)) best = std::move(hold);
  }
  if (!best) return std::nullopt;
  if (best->of.size() > 1) best->of = knots_.tightened(undoer_, peeler.state(), best->of);
  for (ContactId& c : best->of) c = old_of_[at(c)];
  std::sort(best->of.begin(), best->of.end());
  return best;
}

}  // namespace dryfit::planner
