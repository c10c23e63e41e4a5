#pragma once
/// Which boards may ever leave their pipes in one and the same undo move. Counting moves from below needs to know.
#include <limits>
#include <map>
#include <utility>
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

class SharedSlides {
 public:
  /// For moves that start from a state in which at most `made` is made; contacts marked in `free` cost nothing to
  /// undo. The undoer must outlive this.
  SharedSlides(Undoer& undoer, std::vector<char> made, std::vector<char> free);

  /// No way to a slide that takes hole contacts of both boards (indices into Frame::boards) costs fewer moves before
  /// it; kNever when no state that undo moves can reach has such a slide. The test: one contact of each has an end in
  /// the piece K that leaves; K's two ends hang together by parts that can go along without hitting what is left
  /// behind; and from those that cannot, K must have been parted, thread by thread: as many as there are ways of
  /// threads that share none. Asked once per pair, about O(parts * log parts) per pair of holes.
  [[nodiscard]] int least_before(int board, int other);
  static constexpr int kNever = std::numeric_limits<int>::max();

 private:
  [[nodiscard]] int together(const Contact& first, const Contact& second);
  [[nodiscard]] int carried(int from, int to, const Contact& first, const Contact& second, model::Direction way);
  [[nodiscard]] int threads_between(int from, int to, const std::vector<char>& blocked) const;
  /// True when the part, carried the whole way, does not hit the part that stays on its end of a hole contact.
  [[nodiscard]] bool clear_of(PartId moved, PartId left, model::Vec3 sweep) const;
  [[nodiscard]] double travel(const Contact& hole, model::Direction way, bool board_moves) const;

  Undoer* undoer_;
  std::vector<char> made_;
  std::vector<char> free_;
  std::vector<std::vector<ContactId>> holes_of_;  ///< per board
  std::map<std::pair<int, int>, int> known_;
};

}  // namespace dryfit::planner
