#include "planner/early/hair_call.hpp"

#include <utility>

namespace dryfit::planner {

HairCalls::HairCalls(const model::Frame& frame, const ContactList& list, StepContacts steps, bool still_legal)
    : steps_(std::move(steps)),
      less_room_(with_more_room(list, -kHairOfRoom)),
      more_room_(with_more_room(list, kHairOfRoom)),
      less_(frame, less_room_),
      more_(frame, more_room_),
      still_legal_(still_legal) {}

HairCall HairCalls::of(const std::vector<ContactId>& own, const LastCall& told) {
  HairCall found;
  const auto ask = [&](Undoer& undoer, std::optional<LastCall>& other) {
    LastCall call = last_call(undoer, own, steps_);
    if (call.step != told.step) other = std::move(call);
  };
  if (still_legal_) ask(less_, found.less);
  // A step that has waited for the part may go without it then: more room can put a last call where there was none.
  ask(more_, found.more);
  return found;
}

}  // namespace dryfit::planner
