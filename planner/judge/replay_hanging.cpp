/// A board that hangs loose on the pipe that another one leaves is in its way.
#include <algorithm>
#include <set>

#include "planner/judge/replay_slide.hpp"

namespace dryfit::planner::judge {

using model::Direction;
using model::Vec3;

bool Judge::hangs_in_the_way(Slide& slide, int part) {
  const int room = scene_.list().room();
  if (slide.made == nullptr || part == room || slide.in_k(part) || !slide.cluster.holds(part)) return false;
  if (slide.in_r(part, room)) return false;
  const bool on_k = slide.stays_with_k(part);
  // A pipe that stays on the piece's own side, and a board of the other side that is to leave it.
  const auto on_side = [&](int vertex, bool of_k) { return of_k ? slide.in_k(vertex) : slide.in_r(vertex, room); };
  for (const int member : slide.pieces.members(part)) {
    if (member == room || scene_.board(member) == nullptr) continue;
    for (const ContactId id : scene_.at(member)) {
      const Contact& c = scene_.contact(id);
      if ((*slide.made)[dryfit::at(id)] == 0 || !hole_like(c) || slide.pieces.holds(id)) continue;
      if (!on_side(c.b, on_k)) continue;
      const bool leaves_it = std::any_of(slide.left_out.begin(), slide.left_out.end(), [&](ContactId other) {
        return scene_.contact(other).line == c.line && on_side(scene_.contact(other).a, !on_k);
      });
      if (leaves_it) return true;
    }
  }
  return false;
}

Obstacle Judge::runs_into_what_hangs(Slide& slide, Vec3 by) {
  const Direction way = dot(by, scene_.contact(slide.left_out.front()).axis.unit()) > 0
                            ? scene_.contact(slide.left_out.front()).axis
                            : -scene_.contact(slide.left_out.front()).axis;
  std::set<int> movers;
  for (const int end : slide.against) {
    for (const int member : slide.pieces.members(end)) movers.insert(member);
  }
  for (const int part : movers) {
    for (const Body& body : scene_.bodies_of(part)) {
      for (const int index : scene_.near(swept(body.bounds, by))) {
        const Body& other = scene_.body(index);
        if (other.part == part || !slide.stays_with_k(other.part)) continue;
        if (judged_by_width(slide, part, other.solid) || judged_by_width(slide, other.part, body.solid)) continue;
        if (!hits(body.thing(), other.thing(), by, touch_of(scene_, part, other.part))) continue;
        if (draws_out(scene_, part, other.part, way) || lies_on(scene_, part, other.part, way)) continue;
        if (hangs_in_the_way(slide, other.part)) {
          return message("{} would run into {}", called(scene_, part), called(scene_, other.part));
        }
      }
    }
  }
  return {};
}

}  // namespace dryfit::planner::judge
