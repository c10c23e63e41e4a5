#pragma once
/// One thread that is judged: shared by the two files that do it. Private to planner/judge.
#include "planner/judge/replay_judge.hpp"

namespace dryfit::planner::judge {

/// One thread about to be undone, seen from both sides.
struct Judge::Turn {
  const Made& made;
  ContactId contact;
  const Contact& thread;
  double engaged;
  Pieces pieces;  ///< G
  Cluster cluster;
  /// The way in which the side of part `turning` leaves the other.
  [[nodiscard]] model::Direction way(int turning) const { return turning == thread.a ? thread.axis : -thread.axis; }
};

}  // namespace dryfit::planner::judge
