#pragma once
/// Boards that are laid on something: whether what carries one is firm while it is laid on, and whether it may still
/// slide off when the work is turned.
///
/// A board is laid on what the room holds, or what stands on its own feet at the height that it is to have. What has to
/// be propped will do where all carriers are one piece of work, but neither a lone pipe, which rolls, nor what is held
/// in the hands. Until the board is fastened, or trapped by what lies over it, it stays on top of what carries it: the
/// work is not turned.
#include <vector>

#include "planner/effort/effort.hpp"

namespace dryfit::planner {

/// Answers for one frame. Holds references; asks the undoer, so not for use from two threads at once.
class LooseRest {
 public:
  /// `hangs`: the frame is screwed to walls and has no floor to stand on.
  LooseRest(Undoer& undoer, const Effort& effort, bool hangs);

  /// Boards without holes that lie on carriers in the state and hang together with `part`. O(boards).
  [[nodiscard]] std::vector<PartId> laid_with(const State& made, PartId part) const;
  /// A made rest of the board on a carrier, or kNone.
  [[nodiscard]] ContactId rest_of(const State& made, PartId board) const;
  /// What carries the board is firm, the board's own contacts left out. O(parts).
  [[nodiscard]] bool is_firm(const State& made, PartId board) const;
  /// It is in the finished frame: so there may be an order in which it always is.
  [[nodiscard]] bool can_be_firm(PartId board) const;
  /// A laid board that nothing fastens and that can be taken away. One attempt of an undo move.
  [[nodiscard]] bool is_loose(const State& made, PartId board) const;
  /// A board among the parts, ascending, is loose: the work keeps its pose.
  [[nodiscard]] bool any_loose(const State& made, const std::vector<PartId>& parts) const;

 private:
  [[nodiscard]] std::vector<std::vector<PartId>> carriers_of(const State& made, PartId board) const;
  [[nodiscard]] bool is_fastened(const State& made, PartId board) const;
  [[nodiscard]] bool held_by_room(const State& made, const std::vector<PartId>& piece) const;
  [[nodiscard]] bool is_straight_run(const std::vector<PartId>& piece) const;
  [[nodiscard]] double lowest(const std::vector<PartId>& piece) const;

  Undoer& undoer_;
  const model::Frame& frame_;
  const ContactList& list_;
  const Effort& effort_;
  bool hangs_;
  std::vector<char> can_be_firm_;  ///< per board of the frame
};

}  // namespace dryfit::planner
