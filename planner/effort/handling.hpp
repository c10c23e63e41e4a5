#pragma once
/// What the pose of a piece of work adds to the effort of its moves, seconds of easy work.
///
/// Every piece of work, two parts or more that hang together, the room left out, has a pose. A joint or a board may be
/// awkward in it (*trouble*), the piece may need a hand or a prop after the move (*prop*), and between two moves the
/// piece may be turned into another pose (*turn*). Pieces that meet are in one pose. What is screwed to the room
/// stands. A piece that is light enough for one hand is turned in the hand and held in it, at no cost. All of it adds
/// up over the moves and turns, so the pieces stay independent until they meet; and no trouble, turn or wish costs more
/// when a part is left out.
#include <functional>
#include <limits>
#include <memory>
#include <optional>

#include "planner/effort/loose_rest.hpp"
#include "planner/effort/tilt.hpp"
#include "planner/order/pose.hpp"
#include "planner/state/links.hpp"

namespace dryfit::planner {

class KnownStands;

/// Work is raised by so much without being told to, mm (1 in; common practice, no source).
inline constexpr double kToldDip = 25.4;

/// More than anything that can be done costs.
inline constexpr double kNever = std::numeric_limits<double>::infinity();

/// A piece of work after a step.
struct PieceInHand {
  std::vector<PartId> parts;  ///< ascending
  bool fastened = false;      ///< screwed to the room
  bool held = false;          ///< screwed to the room already before the step
};

/// Prices poses for one frame. Holds references to the undoer's frame and lists and to the effort.
class Handling {
 public:
  Handling(Undoer& undoer, const Effort& effort, PosePreference preference);

  /// The piece of work that a contact is in, as it is once that is made, with what is linked with it. O(size of the
  /// cluster).
  [[nodiscard]] PieceInHand piece_of(const State& before, ContactId contact) const;
  /// The one that the move's contacts are in, before it is undone.
  [[nodiscard]] PieceInHand piece_of(const State& before, const Move& move) const {
    return piece_of(before, move.contacts.front());
  }

  /// Making the joint of this move in that pose; kNever where it cannot be done. Every move has a pose without trouble.
  [[nodiscard]] double trouble(const State& before, const Move& move, Pose pose) const;
  [[nodiscard]] double trouble(const PieceInHand& piece, const Move& move, Pose pose) const;
  /// Against what a person prefers: weighs in the choice, costs nothing. Not for what can be done in one pose alone,
  /// nor for what is held in one hand. O(size of the cluster) with a wish.
  [[nodiscard]] double unwanted(const State& before, const Move& move, Pose pose) const;
  [[nodiscard]] double unwanted(const PieceInHand& piece, const Move& move, Pose pose) const;
  /// What a fitter never does where there is another way: lay a board on what is loose. Weighs more than any wish and
  /// costs nothing; nothing where the finished frame itself does not carry the board firmly. Part of unwanted(before).
  [[nodiscard]] double on_what_is_loose(const State& before, const Move& move) const;
  /// A board on the piece lies loose, so the work is not turned, whatever that would cost.
  [[nodiscard]] bool keeps_its_pose(const State& made, const PieceInHand& piece) const {
    return rests_.any_loose(made, piece.parts);
  }
  /// The same of rings that hold each other (links.hpp): closing one round the other while neither the room nor a joint
  /// holds them where they belong, and moving one in the other. Part of unwanted(before).
  [[nodiscard]] double against_links(const State& before, const Move& move) const;
  /// The same of a joint made on upright work between floor and ceiling that would have to start above the ceiling.
  [[nodiscard]] double without_headroom(const PieceInHand& piece, const Move& move, Pose pose) const;
  /// After the move no two rings hold each other that were one piece of work before. O(contacts).
  [[nodiscard]] bool leaves_no_link(const State& before, const Move& move) const;
  /// Vertices of the clusters that hold the one of `vertex` as links of a chain do: they are moved together.
  [[nodiscard]] std::vector<int> linked_with(const State& made, int vertex) const {
    return links_.linked_with(made, vertex);
  }
  /// After the move the boards that lie on the work are no worse off: what carries them is firm, and none has come
  /// loose that does not come off at once (`goes`).
  [[nodiscard]] bool leaves_boards_safe(const State& before, const Move& move,
                                        const std::function<bool(const State&, ContactId)>& goes) const;
  /// Needs a hand or a prop in that pose whatever shape it has: what hangs on a wall, until it is screwed on.
  [[nodiscard]] bool always_propped(const State& before, const Move& move, Pose pose) const;
  /// Needs a second hand or a prop in that pose. O(bodies log bodies).
  [[nodiscard]] bool propped(const PieceInHand& piece, Pose pose) const;
  /// Turning the piece from one pose into another; kNever for what is screwed to the room, or has no room to be tilted.
  [[nodiscard]] double turn(const PieceInHand& piece) const;
  /// The frame is screwed to walls and has no floor to stand on.
  [[nodiscard]] bool hangs() const { return hangs_; }
  /// The finished frame stands in a room.
  [[nodiscard]] bool ends_standing() const { return !frame_.surfaces.empty(); }
  [[nodiscard]] double prop() const { return rates_.prop; }

  /// A part of the piece that the move brings to the other, `after` it is undone; kNone: nothing is brought, a
  /// ring is closed or the work is screwed to the room.
  [[nodiscard]] PartId brought_by(const State& after, const Move& move) const;

 private:
  [[nodiscard]] bool in_one_hand(const PieceInHand& piece) const;
  /// Of a heavy piece.
  [[nodiscard]] double trouble(const Move& move, Pose pose) const;
  [[nodiscard]] bool at_the_foot(const Move& move, Pose pose) const;
  /// What turns about a level axis reaches under the floor that the finished frame stands on, by more than kToldDip.
  [[nodiscard]] bool swings_too_low(const Move& move, Pose pose) const;
  /// Of a flange that is screwed to a level board: laid the board is on edge, and under it the screws are driven upward.
  [[nodiscard]] double to_level_board(const model::Fastening& screws, Pose pose) const;

  const model::Frame& frame_;
  const ContactList& list_;
  const Effort& effort_;
  const EffortRates& rates_;
  PosePreference preference_;
  bool hangs_;
  LooseRest rests_;
  Links links_;
  bool ends_linked_;  ///< rings of the finished frame hold each other that nothing joins
  bool confined_;
  std::optional<double> room_height_;
  std::shared_ptr<KnownStands> stands_;  ///< what has been asked before
  double lowest_, highest_;  ///< of the finished frame, mm
};

}  // namespace dryfit::planner
