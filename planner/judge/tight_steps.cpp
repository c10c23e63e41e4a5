#include "planner/judge/tight_steps.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

std::vector<TightStep> tight_steps(const model::Frame& frame, const ContactList& list,
                                   const std::vector<GivenStep>& steps) {
  const ContactList less_room = with_more_room(list, -kHairOfRoom), more_room = with_more_room(list, kHairOfRoom);
  MoveJudge as_it_is(frame, list), tighter(frame, less_room), wider(frame, more_room);
  std::vector<char> made(list.contacts.size(), 0);
  std::vector<TightStep> tight;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const std::vector<ContactId>& contacts = steps[i].contacts;
    if (std::any_of(contacts.begin(), contacts.end(), [&](ContactId c) { return made[at(c)] != 0; })) continue;
    for (const ContactId c : contacts) made[at(c)] = 1;
    TightStep step;
    step.number = static_cast<int>(i) + 1;
    step.legal = as_it_is.can_undo(made, steps[i], step.told);
    const bool otherwise = step.legal ? tighter.can_undo(made, steps[i], step.told) : wider.can_undo(made, steps[i]);
    if (otherwise == step.legal) continue;
    step.why = step.told.english();
    tight.push_back(std::move(step));
  }
  return tight;
}

}  // namespace dryfit::planner
