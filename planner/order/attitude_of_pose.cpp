#include "planner/order/attitude_of_pose.hpp"

#include <algorithm>
#include <limits>

namespace dryfit::planner {

using model::Attitude;
using model::Vec3;

namespace {

/// From left to right at least as long as from front to back.
bool is_wide(const model::Frame& frame) {
  Vec3 lo{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity(), 0.0};
  Vec3 hi = -lo;
  for (const model::Part& part : frame.parts) {
    for (const model::Solid& solid : part.solids) {
      const model::Bounds box = model::bounds_of(solid);
      for (const int axis : {0, 1}) {
        lo[axis] = std::min(lo[axis], box.lo[axis]);
        hi[axis] = std::max(hi[axis], box.hi[axis]);
      }
    }
  }
  constexpr double kAlike = 1.0;  // mm
  return hi.x - lo.x > hi.y - lo.y - kAlike;
}

}  // namespace

Attitudes attitudes_of(const model::Frame& frame, const std::vector<Step>& steps,
                       const std::vector<Pose>& pose_of_step) {
  const bool wide = is_wide(frame);
  Attitudes out;
  out.over = {wide ? model::kRight : model::kLeft, model::kDown};
  const Attitude on_back{model::kRight, model::kBack}, on_side{model::kUp, model::kLeft};
  const auto from_below = [&](const Attitude& lies) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < steps.size() && i < pose_of_step.size(); ++i) {
      const Vec3 way = lies(steps[i].travel);
      if (pose_of_step[i] == Pose::laid && way.z > 0.5 * model::norm(way)) ++count;
    }
    return count;
  };
  const std::size_t back = from_below(on_back), side = from_below(on_side);
  out.laid = back < side || (back == side && wide) ? on_back : on_side;
  return out;
}

}  // namespace dryfit::planner
