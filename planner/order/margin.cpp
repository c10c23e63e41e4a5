#include "planner/order/margin.hpp"

#include "planner/peel/peel.hpp"

namespace dryfit::planner {

Margin margin_of(const model::Frame& frame, const ContactList& list, bool buildable) {
  const ContactList other = with_more_room(list, buildable ? -kHairOfRoom : kHairOfRoom);
  Undoer asked_again(frame, other);
  State state(other);
  const std::vector<ContactId> knot = peel(asked_again, state).remaining;
  Margin margin;
  margin.other_verdict = knot.empty() != buildable;
  if (!margin.other_verdict) return margin;
  // The two allowances differ about something in the knot of the smaller one.
  const ContactList& less = buildable ? other : list;
  Undoer strict(frame, less), loose(frame, buildable ? list : other);
  State caught(less);
  static_cast<void>(peel(strict, caught));
  for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
    if (!caught.made(c)) continue;
    Attempt attempt = strict.try_undo(caught, c);
    if (attempt.legal || attempt.refusals.empty() || !loose.try_undo(caught, c).legal) continue;
    margin.tight.push_back({c, std::move(attempt.refusals.front())});
  }
  return margin;
}

}  // namespace dryfit::planner
