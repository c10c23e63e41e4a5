/// A board on one pipe that is turned about it to pass what is in its straight way, and turned to its place at the end.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "planner/judge/replay_slide.hpp"
#include "planner/judge/replay_swing.hpp"

namespace dryfit::planner::judge {

using model::Bounds;
using model::Direction;
using model::Solid;
using model::Vec3;

/// A body that stays where it is.
struct Judge::Standing {
  Solid solid;
  bool stops_turning = true;  ///< false for a carrier: the board turns on it
  int let_out_by = 0;         ///< it stands in an open slot: the sense of turning that lets it out,
  double out_at = 0.0;        ///< and the angle at which it is out
};

namespace {

constexpr double kFullTurn = 2.0 * std::numbers::pi;

/// A box about the line of the hole that holds the board at every angle, and on its way along the line.
Bounds reach_round(const model::Board& wood, Vec3 pivot, Vec3 by) {
  const double radius = std::hypot(std::max(norm(wood.lo - pivot), norm(wood.hi - pivot)),
                                   std::max(norm(Vec3{wood.lo.x, wood.hi.y, wood.lo.z} - pivot),
                                            norm(Vec3{wood.hi.x, wood.lo.y, wood.hi.z} - pivot)));
  Bounds place{wood.lo, wood.hi};
  for (int i = 0; i < 3; ++i) {
    if (i == wood.normal) continue;
    place.lo[i] = pivot[i] - radius;
    place.hi[i] = pivot[i] + radius;
  }
  return swept(place, by);
}

/// What lies behind a surface within the place.
Solid behind(const model::Surface& surface, const Bounds& place) {
  constexpr double kDeep = 2000.0;
  Vec3 lo = place.lo - Vec3{1, 1, 1}, hi = place.hi + Vec3{1, 1, 1};
  const int axis = surface.normal.axis();
  const bool faces_up = dot(surface.normal.unit(), Vec3{1, 1, 1}) > 0;
  lo[axis] = faces_up ? surface.at - kDeep : surface.at;
  hi[axis] = faces_up ? surface.at : surface.at + kDeep;
  return model::box(lo, hi);
}

}  // namespace

std::vector<Judge::Standing> Judge::standing_around(Slide& slide, const Contact& c, Direction way, double travel) {
  const model::Board& wood = *scene_.board(c.a);
  const Bounds place = reach_round(wood, c.on_axis, way.unit() * travel);
  std::vector<Standing> all;
  for (const int index : scene_.near(place)) {
    const Body& other = scene_.body(index);
    if (other.part == c.a || coaxial(other.solid, c.on_axis, c.axis)) continue;
    const bool carrier = carries(scene_, other.part, c.a);
    if (carrier && way == wood.facing) continue;
    if (!slide.in_r(other.part, scene_.list().room()) && !hangs_in_the_way(slide, other.part)) continue;
    if (const model::Board* board = scene_.board(other.part); board != nullptr) {
      for (const Solid& solid : board_bodies(*board)) all.push_back({.solid = solid, .stops_turning = !carrier});
      continue;
    }
    Standing standing{.solid = other.solid, .stops_turning = !carrier};
    for (const model::Hole& hole : wood.holes) {
      if (!hole.notch || !coaxial(other.solid, hole.centre, wood.facing)) continue;
      if (!scene_.slips_through(2.0 * other.solid.radius, hole)) continue;
      const int sense = sense_out_of(hole, c.on_axis, wood.facing);
      const auto out = sense == 0 ? std::nullopt : slot_left_at(wood, other.solid, c.on_axis, wood.facing, sense, scene_.list().touch);
      if (!out) continue;
      standing.let_out_by = sense;
      standing.out_at = *out;
    }
    all.push_back(standing);
  }
  if (!slide.cluster.holds_room()) return all;
  for (const model::Surface& surface : scene_.frame().surfaces) all.push_back({.solid = behind(surface, place)});
  return all;
}

/// From its place the board turns one way round until it meets something; an angle up to there, at which its whole way
/// along the line is free, serves.
bool Judge::passes_turned(Slide& slide, const Contact& c, Direction way) {
  const double travel = sliding_travel(slide, way);
  if (too_wide(slide, way, travel)) return false;
  const Direction facing = scene_.board(c.a)->facing;
  const std::vector<Solid> mine = board_bodies(*scene_.board(c.a));
  const std::vector<Standing> all = standing_around(slide, c, way, travel);
  const double touch = scene_.list().touch;
  for (const int sense : {1, -1}) {
    double free = kFullTurn;
    for (const Standing& standing : all) {
      if (!standing.stops_turning) continue;
      const double from = standing.let_out_by == sense ? standing.out_at : 0.0;
      for (const Solid& body : mine) {
        if (from >= free) break;
        const auto met = spans_met(body, c.on_axis, facing, sense, standing.solid, touch, {from, free});
        if (!met.empty()) free = met.front().from;
      }
    }
    std::vector<TurnSpan> closed;
    for (const Standing& standing : all) {
      for (const Solid& body : mine) {
        const Bounds along = swept({body.a, body.b}, way.unit() * travel);
        const auto met = spans_met(model::box(along.lo, along.hi), c.on_axis, facing, sense, standing.solid,
                                   touch, {0.0, free});
        closed.insert(closed.end(), met.begin(), met.end());
      }
    }
    std::sort(closed.begin(), closed.end(), [](const TurnSpan& a, const TurnSpan& b) { return a.from < b.from; });
    double open_from = 0.0;
    for (const TurnSpan& span : closed) {
      if (span.from > open_from + 1e-9) break;
      open_from = std::max(open_from, span.to);
    }
    if (open_from < free - 1e-9) return true;
  }
  return false;
}

bool Judge::slides_turned_aside(Slide& slide, const Made& made, const Contact& c) {
  const bool by_one_hole = c.kind == ContactKind::hole && slide.left_out.size() == 1 && slide.k.size() == 1 &&
                           slide.k.front() == c.a && burden(made, c.a).empty();
  return by_one_hole && (passes_turned(slide, c, c.axis) || passes_turned(slide, c, -c.axis));
}

}  // namespace dryfit::planner::judge
