#pragma once
/// How the work stands, lies and is turned in the steps of an order. Lengths in mm.
#include <vector>

#include "planner/best/best_order.hpp"
#include "planner/effort/tilt.hpp"
#include "planner/order/in_rings.hpp"

namespace dryfit::planner {

/// The work is laid down, stood up or turned over.
struct Turning {
  int before_step = 0;  ///< it is turned before the step of this number; one more than the last: at the end
  Pose from = Pose::standing;
  Pose to = Pose::standing;
  std::vector<PartId> parts;  ///< ascending
  Lift lift;                  ///< of the whole piece
  std::vector<PartId> loose;  ///< boards that slide along their pipes while it is turned
  std::vector<PartId> pipes;  ///< bare pipes that nothing but holes holds, and that slip out of them
  Tilt tilt;
};

/// What turns reaches lower, as the work stands, than all that it stands on.
struct Dip {
  int step = 0;
  double by = 0.0;  ///< mm
};

struct StandingPlan {
  std::vector<Pose> pose_of_step;
  /// Numbers of steps after which the work does not stand by itself, or for which it is held up off the floor,
  /// ascending.
  std::vector<int> propped;
  std::vector<Turning> turnings;
  std::vector<WayIn> ways_in;     ///< and floor and ceiling where a joint lacks the headroom below
  double headroom_missing = 0.0;  ///< most that a joint of standing work lacks below the ceiling
  int no_headroom_step = 0;       ///< number of the step that lacks it; 0 when none does
  std::vector<Dip> dips;          ///< in order of the steps
  std::vector<int> on_loose;      ///< numbers of steps that lay a board on what is loose, ascending
  std::vector<InRing> in_rings;   ///< in order of the steps
};

/// The poses of a priced order, told by its steps. O(moves).
[[nodiscard]] StandingPlan standing_of(const model::Frame& frame, const ContactList& list, const Effort& effort,
                                       const BestOrder& best);

}  // namespace dryfit::planner
