#pragma once
/// What undo moves cost in seconds of easy work, by the rates of effort.hpp.
/// Undoing a contact is taken to cost what making it costs, and the extra of the move is that of the move made
/// forward; fetching parts is not in it, they are at hand.
#include <optional>
#include <vector>

#include "planner/early/hold.hpp"
#include "planner/effort/effort.hpp"
#include "planner/moves/moves.hpp"

namespace dryfit::planner {

struct CostedMove {
  Move move;
  double cost = 0.0;
};

/// Costs of the undo moves of one frame. Holds references; one per thread.
class UndoCost {
 public:
  UndoCost(Undoer& undoer, int people);

  /// Every legal undo move of the state, each set of contacts once, by its cheapest way. With `keep` (one flag per
  /// contact) only those that undo no contact marked there.
  [[nodiscard]] std::vector<CostedMove> moves(const State& state, const std::vector<char>* keep = nullptr);
  /// The move as it costs least in the state where it is done: the lighter side may be the one that moves.
  [[nodiscard]] CostedMove of(const State& state, Move move) const;
  /// The moves one after the other from the state on.
  [[nodiscard]] double of_all(State state, const std::vector<Move>& moves) const;
  /// What it costs to raise the work for a side that stands on the floor and is turned off from below, though the other
  /// side is lighter and may turn as well. As dear as Undoer::ways for such a side.
  [[nodiscard]] double raising(const State& state, const Move& move) const;
  /// No way on from the state that breaks the holds costs less. O(holds * contacts), after one peeling per thread.
  [[nodiscard]] double least(const std::vector<Hold>& holds, const State& state);

 private:
  [[nodiscard]] double least_effort(ContactId thread);
  [[nodiscard]] double least_to_undo(ContactId c);

  Undoer& undoer_;
  const ContactList& list_;
  Effort effort_;
  std::vector<std::optional<double>> least_;  ///< per thread, as far as asked for
};

}  // namespace dryfit::planner
