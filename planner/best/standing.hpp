#pragma once
/// How the work stands, lies and is turned in the steps of an order. Lengths in mm.
#include <vector>

#include "planner/best/best_order.hpp"
#include "planner/effort/tilt.hpp"

namespace dryfit::planner {

/// The work is laid down, stood up or turned over.
struct Turning {
  int before_step = 0;  ///< it is turned before the step of this number; one more than the last: at the end
  Pose from = Pose::standing;
  Pose to = Pose::standing;
  std::vector<PartId> parts;  ///< ascending
  Lift lift;                  ///< of the whole piece
  std::vector<PartId> loose;  ///< boards that slide along their pipes while it is turned
  Tilt tilt;
};

/// A step after which a part goes through a closed ring that nothing joins it with: closing the ring, or making up the
/// part's second end in it.
struct InRing {
  int step = 0;
  std::vector<PartId> ring;  ///< its pipes, ascending
  PartId through = model::kNone;
  bool closes = false;  ///< the step closes the ring round the part; false: it makes up the part in the ring
  int until = 0;        ///< number of the step that joins the two; 0: none does
};

struct StandingPlan {
  std::vector<Pose> pose_of_step;
  std::vector<int> propped;  ///< numbers of steps after which the work does not stand by itself, ascending
  std::vector<Turning> turnings;
  std::vector<WayIn> ways_in;
  double headroom_missing = 0.0;  ///< most that a joint of standing work lacks below the ceiling
  std::vector<int> on_loose;      ///< numbers of steps that lay a board on what is loose, ascending
  std::vector<InRing> in_rings;   ///< in order of the steps
};

/// The poses of a priced order, told by its steps. O(moves).
[[nodiscard]] StandingPlan standing_of(const model::Frame& frame, const ContactList& list, const Effort& effort,
                                       const BestOrder& best);

}  // namespace dryfit::planner
