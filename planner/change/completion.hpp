#pragma once
/// Whether the new design can be completed from what stays made of the old one.
#include <optional>
#include <vector>

#include "planner/change/match.hpp"
#include "planner/early/hold.hpp"
#include "planner/moves/moves.hpp"
#include "planner/moves/refusal_memory.hpp"
#include "planner/peel/knots.hpp"

namespace dryfit::planner {

/// Asks the new frame. Holds references and scratch memory: one per thread.
class Completion {
 public:
  Completion(Undoer& new_undoer, const Matching& matching);

  /// The contacts of the new design that those of `made` (per old contact; all of them may stay) are.
  [[nodiscard]] std::vector<char> image(const std::vector<char>& made) const;
  /// The new frame can be completed from the image of the state: undo moves lead from complete down to just that. If
  /// not: old contacts of which one has to go in every state for which it can, or only in those where another contact
  /// is gone and has to be made anew. O(one peeling of the new frame, and a second to tell few contacts).
  [[nodiscard]] std::optional<Hold> unmet(const State& old_state);

 private:
  Undoer& undoer_;
  const Matching& matching_;
  std::vector<ContactId> old_of_;  ///< per new contact: the old one that stays as it, or kNone
  RefusalMemory memory_;
  Knots knots_;  ///< of the new frame
};

}  // namespace dryfit::planner
