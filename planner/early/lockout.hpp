#pragma once
/// What closes a part out: the smallest sets of contacts that must not all be made before it is on.
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/moves/refusal_memory.hpp"

namespace dryfit::planner {

struct Lockouts {
  /// Each: contacts, none of them the part's own, that no legal order makes all before the part is on; without any one
  /// of them some order does. Smallest first; each ascending.
  std::vector<std::vector<ContactId>> sets;
  bool complete = false;  ///< there are no others
};

/// True when some legal order makes all of `made` before any of `own`. O(one peeling).
[[nodiscard]] bool can_wait(Undoer& undoer, const std::vector<ContactId>& own, const std::vector<ContactId>& made);

/// Lock-outs of the part whose contacts are `own`, in a buildable frame: at most `most`, of at most `widest` contacts
/// each. Every lock-out meets every *exit*: a set of contacts whose undoing frees the part. Exits are collected one by
/// one; the smallest set that meets all known is a lock-out as soon as the part is stuck when it is frozen, and
/// otherwise shows a new exit. `budget` counts undo moves asked for. `known`: refusals to begin with.
[[nodiscard]] Lockouts lockouts_of(Undoer& undoer, const std::vector<ContactId>& own, int most = 4, int widest = 6,
                                   long long budget = 20000, const RefusalMemory* known = nullptr);

}  // namespace dryfit::planner
