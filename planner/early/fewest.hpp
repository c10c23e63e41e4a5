#pragma once
/// The fewest undo moves from a state until certain contacts are gone, or some other condition holds.
#include <functional>
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/moves/refusal_memory.hpp"

namespace dryfit::planner {

struct FewestMoves {
  bool possible = false;    ///< false: no undoing leads there; nothing else holds then
  int at_least = 0;         ///< proven: no way is shorter
  std::vector<Move> moves;  ///< the best way found, in undo order
  bool proven = false;      ///< no way is shorter than `moves`
  long long tries = 0;      ///< work: undo moves asked for
  [[nodiscard]] int at_most() const { return static_cast<int>(moves.size()); }
};

/// What the undoing is for.
struct Wanted {
  /// None of these may be made in the end.
  std::vector<ContactId> gone;
  /// Further conditions, asked once `gone` is fulfilled; may be left empty. For a state that does not fulfil them, made
  /// contacts of which at least one must be undone in every state that does; else nothing. Kept made for good when the
  /// answer is `{model::kNone}`: nothing that can be undone helps.
  std::function<std::vector<ContactId>(const State&)> unmet;
};

/// Searches for the fewest undo moves that lead from `from` to a state as wanted. Whatever way is taken, it undoes at
/// least one contact of each *hold*: a set of contacts that cannot all stay made. Holds are found one by one from
/// refused moves; the smallest set of moves that breaks all holds known is a proven bound, and as soon as it leads to a
/// state as wanted, the answer. Slides that may take several boards at once count once in the bound; where that leaves
/// a gap, a search over states closes it if the budget lets it. `budget` counts undo moves asked for. `known`: refusals
/// to begin with.
[[nodiscard]] FewestMoves fewest_moves(Undoer& undoer, const State& from, const Wanted& wanted,
                                       long long budget = 200000, const RefusalMemory* known = nullptr);
[[nodiscard]] FewestMoves fewest_moves(Undoer& undoer, const State& from, const std::vector<ContactId>& gone,
                                       long long budget = 200000, const RefusalMemory* known = nullptr);

}  // namespace dryfit::planner
