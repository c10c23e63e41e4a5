#pragma once
/// Heavy boards that go on before what carries them is screwed down, from the words of planner/effort/heavy_last.hpp:
/// slowly, and without the planner's code but for its moves.
#include <set>
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::test {

class NaiveHeavy {
 public:
  /// Takes the frame apart a few times. The undoer must outlive this.
  explicit NaiveHeavy(planner::Undoer& undoer);

  /// What the undo move costs for it, seconds, when the contacts in `made` are.
  [[nodiscard]] double too_early(const std::vector<char>& made, const planner::Move& move) const;
  /// Boards that wait for feet.
  [[nodiscard]] std::size_t boards() const { return boards_.size(); }

 private:
  struct Board {
    int part = 0;
    std::set<planner::ContactId> on, feet;
  };
  [[nodiscard]] bool comes_off(const Board& board, const std::set<planner::ContactId>& kept) const;

  planner::Undoer& undoer_;
  std::vector<Board> boards_;
};

}  // namespace dryfit::test
