#pragma once
/// The poses that cost least for given moves.
#include <optional>
#include <vector>

#include "planner/effort/handling.hpp"

namespace dryfit::planner {

/// A piece of work is turned after one move is made and before the next.
struct PoseChange {
  std::size_t after = 0;  ///< index of the undo move whose making comes just before, on the same piece
  int before = -1;        ///< index of the undo move that needs the new pose; -1: it is turned at the end
  Pose from = Pose::standing;
  Pose to = Pose::standing;
  PieceInHand piece;
};

struct PosePlan {
  std::vector<Pose> of_move;        ///< per undo move: the pose in which it is made
  std::vector<double> awkward;      ///< per undo move: trouble in that pose, seconds
  std::vector<char> propped;        ///< per undo move: the piece needs a hand or a prop after it
  std::vector<PoseChange> changes;  ///< as they come while it is built
  double handling = 0.0;            ///< seconds of trouble, props and turns
  double unwanted = 0.0;            ///< what weighs against the poses that a person did not want
  [[nodiscard]] double weight() const { return handling + unwanted; }
};

/// `undo_moves` take apart everything that is made in `state`, first undone first; it is to be in pose `end` in the
/// end, or in any. Moves on one piece form a chain, pieces that meet a tree: the least over the tree from the leaves to
/// the root. O(moves * bodies log bodies).
[[nodiscard]] PosePlan plan_poses(const Handling& handling, State state, const std::vector<const Move*>& undo_moves,
                                  std::optional<Pose> end);
/// Of a whole order.
[[nodiscard]] PosePlan plan_poses(const Handling& handling, const ContactList& list,
                                  const std::vector<Move>& undo_moves);

}  // namespace dryfit::planner
