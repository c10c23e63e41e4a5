#pragma once
/// Gives every run and board its place in the room.
#include "model/geometry/at.hpp"
#include "model/placing/assembly.hpp"

namespace dryfit::model {

/// Moves all parts into room coordinates, fills boards, holes, closures, placed_by and Joint::closing.
///
/// Order, as if one repeated from the top of the file: place every board whose references are placed; take the first
/// run with a way to something placed, place it, start again. A run's ways in order: its own `at`, its `from`, its
/// `to`, then the links of other runs in file order. The first run of the file starts when it begins at a surface (at
/// [0, 0]) or, at the origin, when nothing else is left that could start. Every way not used gives a closure. Because a
/// run only ever becomes ready and stays so, a heap of run numbers finds the same order. O(n log n).
void place(Assembly& assembly, Faults& faults);

/// State while placing; used by place_runs.cpp and place_boards.cpp only.
struct Placer {
  Assembly& assembly;
  Faults& faults;
  Frame& frame;
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
  [[nodiscard]] const DraftBoard& draft_board(int board) const {
    return assembly.draft.boards[at(board)];
  }
  /// Adds the closure between a part and a surface that it is `gap` short of, along the surface's normal.
  void close_on_surface(Closure::Kind kind, PartId id, int surface, double gap, const SourcePos& where);
};

/// Places the board when all that it hangs on is placed; true when it was.
bool try_board(Placer& in, int board);
/// What an unplaced board waits for; told.
void tell_unplaced_board(Placer& in, int board);
/// Holes, carriers, fixings: positions, checks and closures, once everything is placed.
void finish_boards(Placer& in);

}  // namespace dryfit::model
