#pragma once
/// What the poses of the work add to an order, from the words of model/data/effort.csv and planner/effort/handling.hpp,
/// slowly and without the planner's code.
#include <compare>
#include <functional>
#include <set>
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/order/pose.hpp"

namespace dryfit::test {

/// The piece of work that a move is made on.
struct NaivePiece {
  std::set<int> parts;
  bool fastened = false;  ///< screwed to the room after the move
  bool held = false;      ///< and already before it
  auto operator<=>(const NaivePiece&) const = default;
};
[[nodiscard]] NaivePiece naive_piece(const planner::ContactList& list, const std::vector<char>& made,
                                     const planner::Move& move);

/// Making the move's joint in a pose seconds; infinite where it cannot be done.
[[nodiscard]] double naive_trouble(const model::Frame& frame, const planner::ContactList& list, const NaivePiece& piece,
                                   const planner::Move& move, const model::Vec3& on, planner::Pose pose);
/// The piece has to be propped in that pose.
[[nodiscard]] bool naive_propped(const model::Frame& frame, const NaivePiece& piece, planner::Pose pose);
/// What weighs against laying the move's board: a thousand where it is laid on what is loose, though the finished frame
/// carries it firmly. Firm is what is screwed to the room, what stands on its feet on the floor (level pipes roll), and
/// one piece of work that has to be propped because it is too heavy for one hand and bends somewhere.
[[nodiscard]] double naive_on_loose(const model::Frame& frame, const planner::ContactList& list,
                                    const std::vector<char>& made, const planner::Move& move);
/// A board that lies on the piece is fastened to nothing and can be lifted off: the piece keeps its pose. `comes_off`:
/// whether a rest can be undone now, which is a matter of legality.
[[nodiscard]] bool naive_keeps_pose(const model::Frame& frame, const planner::ContactList& list,
                                    const std::vector<char>& made, const NaivePiece& piece,
                                    const std::function<bool(planner::ContactId)>& comes_off);
/// Turning the piece; infinite where it cannot be.
[[nodiscard]] double naive_turn(const model::Frame& frame, const NaivePiece& piece);

}  // namespace dryfit::test
