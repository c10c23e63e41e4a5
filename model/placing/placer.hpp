#pragma once
/// What is known while runs and boards are given their places. Used by the place_*.cpp files only.
#include <array>
#include <vector>

#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"

namespace dryfit::model {

/// State while placing.
struct Placer {
  Assembly& assembly;
  Faults& faults;
  Frame& frame;
  std::vector<int> rank;     ///< per run: of two that would place a third, the lower one does; see first_ways.hpp
  std::vector<Vec3> offset;  ///< per run
  std::vector<bool> run_placed;
  std::vector<bool> board_placed;
  /// Per link: axes that it gave; such axes are no closure. A joint that placed gives all three.
  std::vector<std::array<bool, 3>> gave;
  std::vector<std::vector<int>> links_to_run;     ///< per run: joints that other runs' links make with its parts
  std::vector<std::vector<int>> links_to_board;   ///< per board: flanges on it
  std::vector<std::vector<int>> boards_of_run;    ///< per run: boards whose place may hang on it, ascending
  std::vector<std::vector<int>> boards_on_board;  ///< per board: boards that lie on it first

  [[nodiscard]] const Part& part(PartId id) const { return frame.part(id); }
  [[nodiscard]] bool placed(PartId id) const;
  /// Shift from a part's present coordinates to the room's; zero once all is moved.
  [[nodiscard]] Vec3 shift(PartId id) const;
  /// Farthest coordinate that the part's bodies reach along the axis direction (of a union: both halves).
  [[nodiscard]] double outermost(PartId id, Direction toward) const;
  [[nodiscard]] const DraftBoard& draft_board(int board) const { return assembly.draft.boards[at(board)]; }
  /// Adds the closure between a part and a surface that it is `gap` short of, along the surface's normal.
  void close_on_surface(Closure::Kind kind, PartId id, int surface, double gap, const SourcePos& where);
};

}  // namespace dryfit::model
