#pragma once
/// Which boards may ever leave their pipes in one and the same undo move. Counting moves from below needs to know.
#include <map>
#include <utility>
#include <vector>

#include "planner/moves.hpp"

namespace dryfit::planner {

class SharedSlides {
 public:
  /// For moves that start from a state in which at most `made` is made. The undoer must outlive this.
  SharedSlides(Undoer& undoer, std::vector<char> made);

  /// False only when no state that undo moves can reach has a slide that takes hole contacts of both boards (indices
  /// into Frame::boards). The test: one contact of each has an end in the piece K that leaves; K's two ends hang
  /// together by parts that can go along without hitting what is left behind. Asked once per pair, about
  /// O(parts * log parts) per pair of holes.
  [[nodiscard]] bool possible(int board, int other);

 private:
  [[nodiscard]] bool together(const Contact& first, const Contact& second);
  [[nodiscard]] bool carried(int from, int to, const Contact& first, const Contact& second, model::Direction way);
  /// True when the part, carried the whole way, does not hit the part that stays on its end of a hole contact.
  [[nodiscard]] bool clear_of(PartId moved, PartId left, model::Vec3 sweep) const;
  [[nodiscard]] double travel(const Contact& hole, model::Direction way, bool board_moves) const;

  Undoer* undoer_;
  std::vector<char> made_;
  std::vector<std::vector<ContactId>> holes_of_;  ///< per board
  std::map<std::pair<int, int>, bool> known_;
};

}  // namespace dryfit::planner
