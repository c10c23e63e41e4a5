#pragma once
/// What takes two people to lift goes on when what carries it is screwed to floor or wall: until then it has to be held
/// up there.
///
/// The *feet* of a heavy board are the screws to the room of all that carries it in the finished frame: pieces that
/// threads, nuts and screws hold together, the board left out. They count when the board can still go on after them;
/// where it cannot after all of them, those count after which alone it can, if it can after these together.
#include <algorithm>
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

/// Answers for one frame. Holds references.
class HeavyLast {
 public:
  /// In frames of more contacts nothing has feet.
  static constexpr std::size_t kLookedAt = 150;
  /// More feet than this weigh no more.
  static constexpr std::size_t kMostFeet = 4;

  /// `heavy`: boards that take two people or more. `holds_together`: per contact, one that is dearer to make on what
  /// the room holds. O(two hundred peelings).
  HeavyLast(const Undoer& undoer, const std::vector<PartId>& heavy, const std::vector<char>& holds_together);

  /// Feet of the boards that the move is the first, forward, to bring to what carries them, where not all of them are
  /// fast by then and joined to the board. O(contacts of the boards).
  [[nodiscard]] std::size_t too_early(const State& before, const Move& move) const;
  /// Undoing the foot makes taking a heavy board off dearer. O(boards with the foot * their contacts).
  [[nodiscard]] bool is_needed(const State& made, ContactId foot) const;
  /// As long as these stay made, `foot` stays needed: contacts of its boards and their other feet. Ascending.
  [[nodiscard]] const std::vector<ContactId>& needs(ContactId foot) const { return needs_[at(foot)]; }
  /// What taking apart costs at least for heavy boards: each is taken off with its feet fast, and then of each set of
  /// joints that hold it one goes before it, for `on_room`, or it costs `a_foot` for each of its feet. O(2^boards *
  /// sets).
  [[nodiscard]] double least(const State& made, double a_foot, double on_room) const;
  [[nodiscard]] bool none() const { return boards_.empty(); }

 private:
  struct Board {
    PartId part = model::kNone;
    std::vector<ContactId> on;    ///< its holes, slots and rests on what carries it
    std::vector<ContactId> feet;  ///< ascending
    /// While all joints of one of these and the feet are made, it is on. No joint is in two.
    std::vector<std::vector<ContactId>> holds;
    [[nodiscard]] std::size_t counted() const { return std::min(feet.size(), kMostFeet); }
  };

  [[nodiscard]] std::vector<ContactId> feet_of(PartId board) const;
  [[nodiscard]] static bool goes_after(Undoer& undoer, const Board& board, const std::vector<ContactId>& feet);
  static void keep_what_leaves_room(Undoer& undoer, Board& board);
  void find_holds(Undoer& undoer, Board& board, std::vector<ContactId> joints);
  void take(Board board);
  [[nodiscard]] static bool is_on(const State& made, const Board& board);
  [[nodiscard]] bool stands_fast(const State& made, const Board& board) const;

  const ContactList& list_;
  std::vector<Board> boards_;
  std::vector<std::vector<std::size_t>> boards_of_;  ///< per contact: boards whose foot it is
  std::vector<std::vector<ContactId>> needs_;        ///< per contact
  int asked_ = 0;                                    ///< peelings for holds
};

}  // namespace dryfit::planner
