#include "planner/moves/swept_hits.hpp"

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/parting.hpp"

namespace dryfit::planner {

using model::Direction;
using model::Vec3;

std::vector<SweptHits::Near>& SweptHits::near(int body, Direction way, double travel) {
  if (known_.empty()) {
    find(body, way, travel, found_);
    return found_;
  }
  auto& known = known_[at(body)];
  const std::pair key(way, travel);
  if (const auto found = known.find(key); found != known.end()) return found->second;
  const bool keeps = kept_ < kMostKept;
  if (keeps) ++kept_;
  std::vector<Near>& near = keeps ? known[key] : found_;
  find(body, way, travel, near);
  return near;
}

void SweptHits::find(int body, Direction way, double travel, std::vector<Near>& near) {
  index_.find(swept_bounds(index_.bodies()[at(body)].solid, way.unit() * travel), candidates_);
  near.clear();
  near.reserve(candidates_.size());
  for (const int k : candidates_) near.push_back({k, Hits::not_asked});
}

bool SweptHits::hit(int body, Direction way, double travel, Near& near) const {
  if (near.hits == Hits::not_asked) {
    const Body& mine = index_.bodies()[at(body)];
    const Body& its = index_.bodies()[at(near.body)];
    const Vec3 sweep = way.unit() * travel;
    const bool hits =
        model::hits(mine.thing(), its.thing(), sweep, touch_between(frame_, list_, mine.part, its.part)) &&
        !goes_apart(frame_, list_, mine.part, its.part, sweep);
    near.hits = hits ? Hits::yes : Hits::no;
  }
  return near.hits == Hits::yes;
}

}  // namespace dryfit::planner
