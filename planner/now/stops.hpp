#pragma once
/// Places in an order to stop at: for the night, or to carry on elsewhere.
#include <optional>
#include <vector>

#include "planner/effort/handling.hpp"
#include "planner/now/loose_pieces.hpp"
#include "planner/state/step.hpp"

namespace dryfit::planner {

/// How a piece is left alone.
enum class LeftAs {
  screwed,    ///< to the room: it hangs or stands there
  stands,     ///< by itself, as it was worked on; it may lean by the tip angle of effort.csv
  lies,       ///< as it was worked on, or light enough to be put down anyhow
  laid_down,  ///< it would tip over, so it is laid down first; nothing slides off it
  propped     ///< it would tip over, and a board would slide off it or the room is too low to lay it down
};
[[nodiscard]] const char* word_for(LeftAs as);

struct LeftPiece {
  LoosePiece piece;  ///< of two parts or more
  LeftAs as = LeftAs::stands;
};

struct Stop {
  int after_step = 0;             ///< its number, from 1
  std::vector<LeftPiece> pieces;  ///< in order of their first parts; parts on their own are not told
  double work_before = 0.0;       ///< seconds of easy work from the stop before, or the beginning, to here
  /// Nothing has to be propped or held.
  [[nodiscard]] bool safe() const;
  /// Pieces, and boards on them that nothing holds yet.
  [[nodiscard]] int lying_about() const;
};

/// What is left when people stop after a step. Asks the undoer, so not for use from two threads at once.
class Stops {
 public:
  /// `steps` from bare parts to the finished frame; `poses`: how the work is in each, or empty: as it will stand.
  Stops(Undoer& undoer, const std::vector<Step>& steps, std::vector<Pose> poses, int people);

  /// After the first `count` steps. O(parts + contacts) and an attempt of an undo move for each contact of a board.
  [[nodiscard]] Stop after(int count);

  /// `count` safe stops (1 or more) within the order, first to last: the longest stretch of work is at most half as long
  /// again as it has to be with so many, and of such choices as few pieces and loose boards as can be lie about in all
  /// (Stop::lying_about), then the longest stretch is the shortest, then they come early. A stretch is counted by the
  /// making of its contacts. Nothing when the order has fewer safe places. Of long orders only `kMostPlaces` steps, evenly chosen, are looked at.
  /// O(places^2 * count).
  [[nodiscard]] std::optional<std::vector<Stop>> best(int count);
  /// Making all contacts, seconds of easy work.
  [[nodiscard]] double work() const { return work_.back(); }
  /// All safe places among those that best() looks at.
  [[nodiscard]] const std::vector<Stop>& places();

  static constexpr std::size_t kMostPlaces = 400;

 private:
  [[nodiscard]] LeftAs left_as(const LoosePiece& piece, Pose pose) const;

  Undoer& undoer_;
  const std::vector<Step>& steps_;
  std::vector<Pose> poses_;
  Effort effort_;
  Handling handling_;
  Links links_;
  std::vector<double> work_;  ///< per step and one more: of all steps before it
  std::optional<std::vector<Stop>> places_;
};

}  // namespace dryfit::planner
