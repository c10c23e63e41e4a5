/// A board that hangs loose on the pipe that another one leaves is in its way, and a loose pipe in that of one in line.
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

Obstacle Judge::runs_into_end(Slide& slide, Vec3 by) {
  const int room = scene_.list().room();
  const auto goes = [&](int part) { return slide.k_holds_room ? slide.in_r(part, room) : slide.in_k(part); };
  const auto keeps_its_place = [&](int board) {
    return slide.k_holds_room ? slide.in_k(board) : slide.in_r(board, room);
  };
  const auto hangs_on = [&](int part, int line) {
    const std::vector<ContactId>& holes = scene_.holes_on(line);
    return std::any_of(holes.begin(), holes.end(), [&](ContactId id) {
      const Contact& hole = scene_.contact(id);
      return (*slide.made)[dryfit::at(id)] != 0 && slide.pieces.same(hole.b, part) && keeps_its_place(hole.a);
    });
  };
  for (const ContactId id : slide.left_out) {
    const Contact& c = scene_.contact(id);
    if (!goes(c.b)) continue;
    const Direction way = dot(by, c.axis.unit()) > 0 ? c.axis : -c.axis;
    std::set<int> movers;
    if (slide.k_holds_room) {
      for (const int member : slide.pieces.members(c.b)) movers.insert(member);
    } else {
      movers.insert(slide.k.begin(), slide.k.end());
    }
    for (const int part : movers) {
      if (part == room || scene_.board(part) != nullptr) continue;
      for (const Body& body : scene_.bodies_of(part)) {
        if (!coaxial(body.solid, c.on_axis, c.axis)) continue;
        for (const int index : scene_.near(swept(body.bounds, by))) {
          const Body& other = scene_.body(index);
          if (!coaxial(other.solid, c.on_axis, c.axis) || slide.in_k(other.part) || slide.in_r(other.part, room))
            continue;
          if (slide.linked.contains(other.part) || !slide.cluster.holds(other.part)) continue;
          if (!hits(body.thing(), other.thing(), by, touch_of(scene_, part, other.part))) continue;
          if (draws_out(scene_, part, other.part, way) || !hangs_on(other.part, c.line)) continue;
          return message("{} would run into {}", called(scene_, part), called(scene_, other.part));
        }
      }
    }
  }
  return {};
}

}  // namespace dryfit::planner::judge
