#include "planner/order/attitude_of_pose.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"

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

/// Per step: what it makes is heavier than that, and lies on the floor or the bench while it is made.
std::vector<bool> lies_there(const model::Frame& frame, const std::vector<Step>& steps, double in_one_hand) {
  DisjointSets pieces(frame.parts.size());
  std::vector<double> mass;
  for (const model::Part& part : frame.parts) mass.push_back(part.mass);
  std::vector<bool> lies;
  for (const Step& step : steps) {
    const PartId first = step.moving.front();
    const auto join = [&](PartId part) {
      if (part == model::kRoom) return;
      if (const auto joined = pieces.join(first, part)) mass[at(joined->kept)] += mass[at(joined->gone)];
    };
    for (const PartId part : step.moving) join(part);
    for (const PartId part : step.holding) join(part);
    lies.push_back(mass[at(pieces.find(first))] > in_one_hand);
  }
  return lies;
}

}  // namespace

Attitudes attitudes_of(const model::Frame& frame, const std::vector<Step>& steps, const std::vector<Pose>& pose_of_step,
                       double in_one_hand) {
  constexpr double kAlike = 1.0;  // mm
  constexpr double kAboutAsHigh = 1.25;
  const Vec3 size = level_size(frame);
  const bool wide = size.x > size.y - kAlike;
  const bool about_as_high = size.x < kAboutAsHigh * size.y && size.y < kAboutAsHigh * size.x;
  Attitudes out;
  out.over = {wide ? model::kRight : model::kLeft, model::kDown};
  const std::vector<bool> heavy = lies_there(frame, steps, in_one_hand);
  // Of the work that lies there first: what is held in the other hand may point anywhere.
  const auto from_below = [&](const Attitude& lies) {
    std::pair<int, int> count{0, 0};
    for (std::size_t i = 0; i < steps.size() && i < pose_of_step.size(); ++i) {
      const Vec3 way = lies(steps[i].travel);
      if (pose_of_step[i] != Pose::laid || way.z <= 0.5 * model::norm(way)) continue;
      count.first += heavy[i] ? 1 : 0;
      ++count.second;
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
