#pragma once
/// Greedy peeling: undo whatever can be undone. What can be undone stays undoable, at most after one more move, so
/// the result (all apart, or the same knot) does not depend on the order in which it is tried.
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

struct Peeling {
  std::vector<Move> moves;           ///< in undo order
  std::vector<ContactId> remaining;  ///< the knot, ascending; empty when all came apart
  /// Per remaining contact (same order): why it cannot be undone.
  std::vector<std::vector<Refusal>> refusals;
};

/// Peels `state` down as far as it goes. Deterministic: fastenings first, then straps, nuts, boards, threads; parts
/// late in the file before early ones. `frozen` contacts are kept made. A refused contact is asked again only when
/// one of the contacts that its refusals rest on has gone, so the work is near-linear when pieces are small.
[[nodiscard]] Peeling peel(Undoer& undoer, State& state, const std::vector<char>* frozen = nullptr);

}  // namespace dryfit::planner
