#pragma once
/// Which boards may ever leave their pipes in one and the same undo move. Counting moves from below needs to know.
#include <functional>
#include <limits>
#include <map>
#include <utility>
#include <vector>

#include "planner/early/thread_cuts.hpp"
#include "planner/moves/moves.hpp"

namespace dryfit::planner {

class SharedSlides {
 public:
  /// For moves that start from a state in which at most `made` is made; contacts marked in `free` cost nothing to
  /// undo. The undoer must outlive this.
  SharedSlides(Undoer& undoer, std::vector<char> made, std::vector<char> free);

  /// No way to a move that takes hole or slot contacts of both boards (indices into Frame::boards) costs fewer moves
  /// before it; kNever when no state that undo moves can reach has such a move. The test: one contact of each has an
  /// end in the piece K that leaves; K's two ends hang together by parts that can go along without hitting what is left
  /// behind; and from those that cannot, K must have been parted, thread by thread: as many as there are ways of
  /// threads that share none. Where K holds the room it is the others that move, and they hang together too. Asked once
  /// per pair, about O(parts * log parts) per pair of contacts.
  [[nodiscard]] int least_before(int board, int other);
  static constexpr int kNever = std::numeric_limits<int>::max();

  /// What has to come before a slide that takes two contacts at once.
  struct Needed {
    int least = kNever;  ///< moves at least; kNever: there is no such slide
    /// Of each of these sets of threads, nuts and fastenings one has to go; ascending. None: nothing is known.
    std::vector<std::vector<ContactId>> one_of_each;
  };
  /// Where one of each set of `some` has to go or one of each of `others`: sets that hold either way, small ones first.
  [[nodiscard]] static std::vector<std::vector<ContactId>> either(const std::vector<std::vector<ContactId>>& some,
                                                                  const std::vector<std::vector<ContactId>>& others);
  /// The same for two contacts, of one board or of two. Only for pipes in holes, which nothing but a slide takes out.
  [[nodiscard]] const Needed& needed(ContactId first, ContactId second);

 private:
  /// What one move would have to be that takes two contacts.
  struct Taken {
    MoveKind kind = MoveKind::slide;  ///< or sideways
    model::Direction way;             ///< K's
    PartId from = model::kNone;       ///< ends of the two contacts in K
    PartId to = model::kNone;
    PartId left_by_from = model::kNone;  ///< and outside
    PartId left_by_to = model::kNone;
    model::Vec3 sweep{};  ///< how far the farther one goes
  };
  /// Vertices that hang together, and those next to them that cannot be among them.
  struct Spread {
    std::vector<char> in;
    std::vector<char> blocked;
  };

  [[nodiscard]] Needed together(const Contact& first, const Contact& second);
  /// Only how many moves; the sets take as long again.
  [[nodiscard]] int least_together(const Contact& first, const Contact& second);
  [[nodiscard]] Needed taken(MoveKind kind, model::Direction way, const Contact& first, const Contact& second, bool a,
                             bool b) const;
  /// K leaves what stays or moves, and does not hold the room.
  [[nodiscard]] Needed without_room(const Taken& move) const;
  /// K holds the room.
  [[nodiscard]] Needed with_room(const Taken& move) const;
  /// What `move` takes along lets go of the contact at the end `vertex`.
  [[nodiscard]] bool lets_go(const Taken& move, const Contact& contact, int vertex) const;
  [[nodiscard]] bool goes_along(const Taken& move, int vertex) const;
  [[nodiscard]] bool hang_together_without_k(const Taken& move, const Spread& one, const Spread& other) const;
  [[nodiscard]] Spread spread(const Taken& move, int from, const std::function<bool(int)>& goes) const;
  [[nodiscard]] std::vector<int> between(const Taken& move, const Spread& k, int from, int to) const;
  /// What it takes to part these from the blocked parts.
  [[nodiscard]] Needed parted(const std::vector<int>& from, const std::vector<char>& blocked) const;
  /// True when the part, carried the whole way, does not hit the part that stays on its end of a hole contact.
  [[nodiscard]] bool clear_of(PartId moved, PartId left, model::Vec3 sweep) const;
  [[nodiscard]] double travel(const Contact& hole, model::Direction way, bool board_moves) const;
  [[nodiscard]] model::Direction opening(const Contact& notch) const;

  Undoer* undoer_;
  std::vector<char> made_;
  ThreadCuts cuts_;
  std::vector<std::vector<ContactId>> holes_of_;  ///< per board
  bool sets_asked_for_ = true;
  std::map<std::pair<int, int>, int> known_;
  std::map<std::pair<ContactId, ContactId>, Needed> needed_;
};

}  // namespace dryfit::planner
