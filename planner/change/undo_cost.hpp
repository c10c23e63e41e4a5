#pragma once
/// What the undo moves of a change are counted in: moves, or seconds of easy work by the rates of effort.hpp.
/// Undoing a contact is taken to cost what making it costs, and the extra of the move is that of the move made
/// forward; fetching parts is not in it, they are at hand.
#include <optional>
#include <vector>

#include "planner/effort/effort.hpp"
#include "planner/moves/moves.hpp"

namespace dryfit::planner {

enum class ChangePrice { moves, effort };

struct CostedMove {
  Move move;
  double cost = 0.0;
};

/// Costs of the undo moves of one frame. Holds references; one per thread.
class UndoCost {
 public:
  UndoCost(Undoer& undoer, ChangePrice by, int people);

  /// Every legal undo move of the state, each set of contacts once, by its cheapest way.
  [[nodiscard]] std::vector<CostedMove> moves(const State& state);
  /// The cost of a move in the state where it is done; may turn the move round, so that the lighter side moves.
  [[nodiscard]] double of(const State& state, Move& move) const;
  /// The same of moves one after the other, the first in the state where `made` is made.
  [[nodiscard]] double of(const std::vector<char>& made, std::vector<Move>& moves) const;
  /// No way to take all of `contacts` off costs less. O(contacts), after one peeling per thread.
  [[nodiscard]] double least(const std::vector<char>& contacts);

 private:
  [[nodiscard]] double least_effort(ContactId thread);

  Undoer& undoer_;
  const ContactList& list_;
  Effort effort_;
  ChangePrice by_;
  std::vector<std::optional<double>> least_;  ///< per thread, as far as asked for
};

}  // namespace dryfit::planner
