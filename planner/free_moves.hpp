#pragma once
/// Peeling by what is free: takes off whatever comes off at no extra, what a fitter does last first, until only moves
/// are left that have to be weighed against each other.
#include <map>

#include "planner/effort.hpp"
#include "planner/refused.hpp"
#include "planner/undo_choice.hpp"

namespace dryfit::planner {

class FreeMoves {
 public:
  FreeMoves(Undoer& undoer, const Effort& effort, Refused& refused)
      : undoer_(undoer), effort_(effort), refused_(refused) {}

  /// Undoes every move that is free, one after the other, and returns them, first undone first. `state` is left with
  /// what does not come off freely. A refused contact is asked again when something that its refusals rest on has
  /// gone. About O(contacts * (free moves at a time + cost of one attempt)).
  [[nodiscard]] std::vector<PricedMove> peel(State& state, Place last);

 private:
  [[nodiscard]] bool is_strap(const Contact& c) const;
  [[nodiscard]] bool hangs_by(const State& state, PartId part, ContactId c) const;
  [[nodiscard]] bool board_goes_with_straps(const State& state, PartId board) const;
  /// True when the move takes off one bare part, a strap or a fixing to the room, at no extra.
  [[nodiscard]] bool is_free(const State& state, Move& move, Extra& extra) const;
  [[nodiscard]] bool may_be_free(const State& state, ContactId c) const;
  /// The free way to undo `c`, or the contacts to watch.
  bool ask(const State& state, ContactId c, PricedMove& priced, std::vector<ContactId>& watch, bool& legal);

  Undoer& undoer_;
  const Effort& effort_;
  Refused& refused_;
};

}  // namespace dryfit::planner
