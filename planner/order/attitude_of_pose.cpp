#include "planner/order/attitude_of_pose.hpp"

#include <algorithm>
#include <limits>

namespace dryfit::planner {

using model::Attitude;
using model::Vec3;

namespace {

/// Width from left to right and depth from front to back.
Vec3 level_size(const model::Frame& frame) {
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
  return hi - lo;
}

}  // namespace

Attitudes attitudes_of(const model::Frame& frame, const std::vector<Step>& steps,
                       const std::vector<Pose>& pose_of_step) {
  constexpr double kAlike = 1.0;  // mm
  constexpr double kAboutAsHigh = 1.25;
  const Vec3 size = level_size(frame);
  const bool wide = size.x > size.y - kAlike;
  const bool about_as_high = size.x < kAboutAsHigh * size.y && size.y < kAboutAsHigh * size.x;
  Attitudes out;
  out.over = {wide ? model::kRight : model::kLeft, model::kDown};
  const auto from_below = [&](const Attitude& lies) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < steps.size() && i < pose_of_step.size(); ++i) {
      const Vec3 way = lies(steps[i].travel);
      if (pose_of_step[i] == Pose::laid && way.z > 0.5 * model::norm(way)) ++count;
    }
    return count;
  };
  std::vector<Attitude> low;
  if (wide || about_as_high) low = {{model::kRight, model::kBack}, {model::kRight, model::kFront}};
  if (!wide || about_as_high) {
    low.push_back({model::kUp, model::kLeft});
    low.push_back({model::kDown, model::kRight});
  }
  out.laid = *std::min_element(low.begin(), low.end(),
                               [&](const Attitude& a, const Attitude& b) { return from_below(a) < from_below(b); });
  return out;
}

}  // namespace dryfit::planner
