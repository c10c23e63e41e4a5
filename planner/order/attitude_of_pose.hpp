#pragma once
/// How the work lies in each pose.
#include <vector>

#include "model/frame/frame.hpp"
#include "model/geometry/attitude.hpp"
#include "planner/order/pose.hpp"
#include "planner/state/step.hpp"

namespace dryfit::planner {

/// One for each pose, the same for every piece of a frame, so that a piece and what it is joined to agree.
struct Attitudes {
  model::Attitude laid;
  model::Attitude over;
  [[nodiscard]] model::Attitude of(Pose pose) const {
    return pose == Pose::laid ? laid : pose == Pose::over ? over : model::Attitude{};
  }
};

/// Laid: on its back, the top away from who stands before it, on its front, the top toward that person, or on a side:
/// as low as it gets, so that it is lifted least and no joint is high up; of those about as low the one in which fewest
/// steps begin below, from the floor or the bench, on work of more than `in_one_hand` kg, then fewest of all; of equals
/// in the order back, front, left side, right side.
/// Over: about the longer level side, so that a wide frame's front comes to the back, a deep one's right to the left.
/// Choice of the program: the plan says only how high the work is tilted. O(parts + steps).
[[nodiscard]] Attitudes attitudes_of(const model::Frame& frame, const std::vector<Step>& steps,
                                     const std::vector<Pose>& pose_of_step, double in_one_hand);

}  // namespace dryfit::planner
