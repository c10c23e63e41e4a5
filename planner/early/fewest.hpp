#pragma once
/// The fewest undo moves from a state until certain contacts are gone, or some other condition holds.
#include <memory>
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/early/wanted.hpp"
#include "planner/moves/moves.hpp"
#include "planner/moves/refusal_memory.hpp"
#include "planner/peel/knots.hpp"

namespace dryfit::planner {

struct FewestMoves {
  bool possible = false;    ///< false: no undoing leads there; nothing else holds then
  int at_least = 0;         ///< proven: no way costs less; never more than at_most()
  int cost = 0;             ///< of `moves`: those of them that are not free
  std::vector<Move> moves;  ///< the best way found, in undo order
  std::vector<Hold> holds;  ///< all that were found: every way undoes at least one contact of each
  long long tries = 0;      ///< work: undo moves asked for
  long long states = 0;     ///< looked at
  [[nodiscard]] int at_most() const { return cost; }
  /// No way costs less than `moves`.
  [[nodiscard]] bool proven() const { return possible && at_least == cost; }
};

/// What one search finds out that holds for others in the same frame.
struct FewestLore {
  explicit FewestLore(std::size_t contacts, std::shared_ptr<Knots> shared = nullptr)
      : refusals(contacts), knots(shared != nullptr ? std::move(shared) : std::make_shared<Knots>(contacts)) {}
  RefusalMemory refusals;
  std::shared_ptr<Knots> knots;  ///< of the undoer; may be shared with other searches of it
  std::vector<Hold> holds;       ///< as FewestMoves::holds
  std::vector<ContactId> way;    ///< all contacts that the best way undid
};

/// Searches for the undo moves of least cost that lead from `from` to a state as wanted. Every move costs one, but for
/// those that are free. Whatever way is taken, it undoes at least one contact of each *hold*: a set of contacts that
/// cannot all stay made. Holds are found one by one from refused moves; the smallest set of moves that breaks all holds
/// known is a proven bound, and as soon as it leads to a state as wanted, the answer (an implicit hitting set). Slides
/// that may take several boards at once count once in the bound; where that leaves a gap, a search over states closes
/// it if the budget lets it. `budget` counts undo moves asked for; the bounds are true at any. `known`: refusals to
/// begin with; `knots`: shared with other searches that begin with the finished frame, without an effect on the answer.
/// The foreman is told of moves asked for; when he ends the work the answer is what is known by then.
[[nodiscard]] FewestMoves fewest_moves(Undoer& undoer, const State& from, const Wanted& wanted,
                                       long long budget = 200000, const RefusalMemory* known = nullptr,
                                       Foreman* foreman = nullptr, std::shared_ptr<Knots> knots = nullptr);
/// The same with what is known from a search that began in a state with all of these contacts made and more, which undo
/// moves reach from the finished frame as they do this one, and had the same wish and nothing free. `lore` gets what
/// this search adds.
[[nodiscard]] FewestMoves fewest_moves(Undoer& undoer, const State& from, const Wanted& wanted, long long budget,
                                       FewestLore& lore, Foreman* foreman = nullptr);
[[nodiscard]] FewestMoves fewest_moves(Undoer& undoer, const State& from, const std::vector<ContactId>& gone,
                                       long long budget = 200000, const RefusalMemory* known = nullptr);

}  // namespace dryfit::planner
