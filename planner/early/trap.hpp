#pragma once
/// What must go on early, part by part: last call, lock-outs, the price of forgetting.
#include <vector>

#include "planner/early/fewest.hpp"
#include "planner/early/last_call.hpp"
#include "planner/early/lockout.hpp"
#include "planner/state/named_part.hpp"

namespace dryfit::planner {

struct EarlyPart {
  NamedPart part;
  LastCall last_call;
  Lockouts lockouts;
  /// Depth: the fewest undo moves that take the part out of the finished frame.
  FewestMoves depth;
  /// Moves among them that undo more than the part's own contacts: what comes off again if it was forgotten.
  int price = 0;
  int price_at_least = 0;            ///< equal to price when depth.proven
  std::vector<ContactId> comes_off;  ///< the contacts that those moves undo, in undo order
};

/// What cannot be undone in the finished frame, contact by contact, and what that rests on. Asked once, it saves every
/// part the same questions, and answers do not depend on which parts were asked about before.
[[nodiscard]] RefusalMemory refusals_when_whole(Undoer& undoer);

/// Bounds of the work for one part, in undo moves asked for.
struct EarlyBudget {
  long long price = 40000;
  long long lockouts = 10000;
  int most_lockouts = 4;
  int widest_lockout = 6;
  const RefusalMemory* known = nullptr;  ///< of the finished frame, if at hand
};

/// What it costs to put a part on that was forgotten until all else was made.
struct Price {
  FewestMoves depth;  ///< the fewest undo moves that take the part out of the finished frame
  int price = 0;      ///< moves among them that undo more than the part's own contacts
  int at_least = 0;
  std::vector<ContactId> comes_off;  ///< the contacts that those moves undo, in undo order
};
[[nodiscard]] Price price_of(Undoer& undoer, const NamedPart& part, long long budget,
                             const RefusalMemory* known = nullptr);

/// The facts about one part of a buildable frame, for the order whose steps make the contacts given.
[[nodiscard]] EarlyPart early_facts(Undoer& undoer, const NamedPart& part, const StepContacts& steps,
                                    const EarlyBudget& budget = {});

/// Indices of parts that are traps, the highest price first, then boards, then the earliest last call.
[[nodiscard]] std::vector<std::size_t> traps_worst_first(const std::vector<EarlyPart>& parts);

/// Fewest undo moves from a half-built state until the part can go on again.
[[nodiscard]] FewestMoves price_when_closed(Undoer& undoer, const std::vector<ContactId>& own,
                                            const std::vector<char>& made, long long budget = 4000);

}  // namespace dryfit::planner
