#pragma once
/// What must go on early, part by part: last call, lock-outs, the price of forgetting.
#include <memory>
#include <vector>

#include "planner/early/fewest.hpp"
#include "planner/early/hair_call.hpp"
#include "planner/early/last_call.hpp"
#include "planner/early/lockout.hpp"
#include "planner/state/named_part.hpp"

namespace dryfit::planner {

/// What it costs to put a part on that was forgotten until all else was made: the fewest moves that undo more than the
/// part's own contacts, over all ways to take it out of the finished frame, short and long ones.
struct Price {
  FewestMoves out;                   ///< such a way; its cost counts these moves alone
  std::vector<ContactId> comes_off;  ///< the contacts that those moves undo and that are not its own, in undo order
  [[nodiscard]] int at_most() const { return out.cost; }
  [[nodiscard]] int at_least() const { return out.at_least; }
  [[nodiscard]] bool proven() const { return out.proven(); }
};

struct EarlyPart {
  NamedPart part;
  LastCall last_call;
  HairCall hair;  ///< once it has been asked for
  Lockouts lockouts;
  /// Depth: the fewest undo moves that take the part out of the finished frame, its own ones too.
  FewestMoves depth;
  Price price;
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
  std::shared_ptr<Knots> knots{};        ///< shared by all parts, if there are several
};

[[nodiscard]] Price price_of(Undoer& undoer, const NamedPart& part, long long budget,
                             const RefusalMemory* known = nullptr, std::shared_ptr<Knots> knots = nullptr);

/// The facts about one part of a buildable frame, for the order whose steps make the contacts given.
[[nodiscard]] EarlyPart early_facts(Undoer& undoer, const NamedPart& part, const StepContacts& steps,
                                    const EarlyBudget& budget = {});

/// Indices of parts that are traps, the highest price first, then boards, then the earliest last call.
[[nodiscard]] std::vector<std::size_t> traps_worst_first(const std::vector<EarlyPart>& parts);

/// Fewest undo moves from a half-built state until the part can go on again.
[[nodiscard]] FewestMoves price_when_closed(Undoer& undoer, const std::vector<ContactId>& own,
                                            const std::vector<char>& made, long long budget = 4000);

}  // namespace dryfit::planner
