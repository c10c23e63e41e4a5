#pragma once
/// What the poses of the work add to an order, from the words of model/data/effort.csv and planner/effort/handling.hpp,
/// slowly and without the planner's code.
#include <compare>
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
/// Turning the piece; infinite where it cannot be.
[[nodiscard]] double naive_turn(const model::Frame& frame, const NaivePiece& piece);

}  // namespace dryfit::test
