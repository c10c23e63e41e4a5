#pragma once
/// How long a part can be put off in a given order, and what closes it out.
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

/// The contacts that each step of a legal order makes, first step first; each contact in one step.
using StepContacts = std::vector<std::vector<ContactId>>;

struct LastCall {
  int step = 0;                          ///< number from 1 of the step before which the part must be on; 0: it can wait
  bool trap = false;                     ///< that step can be made without the part, so that nobody notices
  std::vector<ContactId> closed_out_by;  ///< contacts that the step makes, the part's own left out
  ContactId stuck = model::kNone;  ///< a contact of the part, or of what waits for it, that cannot be made any more
  std::vector<Refusal> why;        ///< why not, as refusals of undoing it
  int needed_by = 0;               ///< first step, not one of the part's own, that cannot be made without it; 0: none
  std::vector<int> put_off;        ///< steps that have to wait with the part, up to the last call
  /// First step after the one that puts the part on that takes hold of it again or cannot be made without it; 0: none.
  int asked_for = 0;
  /// Whoever follows the steps is not reminded of the part before it is too late.
  [[nodiscard]] bool unnoticed() const { return trap && (asked_for == 0 || asked_for > step); }
};

/// Keeps everything else in the order and puts the part with the contacts `own` off as long as it, and all that cannot
/// be made without it and waits too, still can go on. The order must be legal. O(steps * contacts).
[[nodiscard]] LastCall last_call(Undoer& undoer, const std::vector<ContactId>& own, const StepContacts& steps);

/// A frame built in part, by whatever steps.
struct HalfBuilt {
  bool closed = false;             ///< the part cannot go on any more, however the building goes on
  std::vector<ContactId> held_by;  ///< closed: contacts made of which at least one has to come off; ascending
  ContactId stuck = model::kNone;  ///< closed: a contact of the part that cannot be made
  std::vector<Refusal> why;        ///< closed: as in LastCall
};

/// Whether the part's missing contacts can still be made when the contacts of `made` are. O(one peeling).
[[nodiscard]] HalfBuilt half_built(Undoer& undoer, const std::vector<ContactId>& own, const std::vector<char>& made);

}  // namespace dryfit::planner
