/// Fastening: whether the driver gets at the screws of a flange.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "planner/judge/replay_judge.hpp"

namespace dryfit::planner::judge {

using model::Direction;
using model::Solid;
using model::Vec3;

namespace {

constexpr double kBitRadius = 3.5;    // mm, a long 1/4 in bit (common practice, no source)
constexpr int kStepsPerQuarter = 12;  // ways to turn the flange on its pipe, as far as the screws can tell

}  // namespace

/// The screws of one flange.
struct Judge::Screws {
  const Made& made;
  const Contact& fastening;
  const model::Part& flange;
  Direction away;  ///< from the plate to the driver
  Pieces pieces;   ///< all that is made
  Cluster cluster;

  [[nodiscard]] Vec3 heads() const {
    const Solid& plate = flange.solids.back();
    return flange.centre + away.unit() * norm(plate.b - plate.a);
  }
  [[nodiscard]] bool round_the_pipe(const Solid& solid) const { return coaxial(solid, flange.centre, away); }
};

namespace {

/// Where the board begins along a direction, mm.
double beginning_of(const model::Board& wood, Vec3 out) {
  return -reach_along(model::box(wood.lo, wood.hi), -out);
}

}  // namespace

Verdict Judge::unfasten(const Made& made, ContactId id) {
  const Contact& c = scene_.contact(id);
  using Kind = model::Fastening::Kind;
  const Kind kind = scene_.frame().fastening(c.fastening).kind;
  // Where the screws of boards, straps and clips sit is left to the builder.
  if (kind != Kind::flange_to_surface && kind != Kind::flange_to_board) return {{id}, {}};
  const model::Part& flange = scene_.part(c.a);
  Screws screws{made,
                c,
                flange,
                flange.ports.front().facing,
                Pieces(scene_, made, {}, marks_),
                Cluster(scene_, made, c.a, cluster_marks_)};
  Message why;
  for (int step = 0; step < kStepsPerQuarter; ++step) {
    const Obstacle in_the_way = over_screws(screws, step);
    if (!in_the_way) return {{id}, {}};
    if (why.empty()) why = *in_the_way;
  }
  return refused(message("{} cannot be screwed on: {}, and the driver needs {}", called(scene_, c.a), why,
                         shop_length(scene_.frame().driver, scene_)));
}

/// What is over one of the four screws when the flange has been turned so many steps.
Obstacle Judge::over_screws(Screws& screws, int step) {
  const Vec3 out = screws.away.unit();
  // Two directions square to the screws, the first along an axis.
  Vec3 first;
  first[out.z == 0.0 ? 2 : out.y == 0.0 ? 1 : 0] = 1.0;
  const Vec3 second = cross(out, first);
  const double circle = 0.5 * screws.flange.screw_circle, hub = screws.flange.solids.front().radius;
  const double radius = std::min(kBitRadius, 0.5 * (circle - hub));
  for (int quarter = 0; quarter < 4; ++quarter) {
    const double angle = 0.5 * std::numbers::pi * (quarter + static_cast<double>(step) / kStepsPerQuarter);
    const Vec3 head = screws.heads() + first * (circle * std::cos(angle)) + second * (circle * std::sin(angle));
    const Solid bit = model::cylinder(head, screws.away, scene_.frame().driver, radius);
    if (screws.cluster.holds_room()) {
      for (std::size_t s = 0; s < scene_.frame().surfaces.size(); ++s) {
        const model::Surface& surface = scene_.frame().surfaces[s];
        if (depth_behind(surface, reach_along(bit, -surface.normal.unit())) < scene_.list().touch) continue;
        return message("{} is too near", surface_called(scene_, static_cast<int>(s)));
      }
    }
    for (const int index : scene_.near(bounds_of(bit))) {
      const Body& body = scene_.body(index);
      // The board that the screws go into is not over them, even where a closure that is open draws it there.
      if (body.part == screws.fastening.a || body.part == screws.fastening.b || leans_past(screws, body)) continue;
      if (!model::hits({bit}, body.thing(), {}, scene_.list().touch)) continue;
      if (!screws.pieces.same(body.part, screws.fastening.a)) continue;
      const Obstacle stays = cannot_be_pushed(screws, body.part);
      if (stays) return stays;
    }
  }
  return {};
}

/// The driver leans past the arms of a fitting on the flange's own pipe.
bool Judge::leans_past(const Screws& screws, const Body& body) const {
  if (screws.round_the_pipe(body.solid)) return false;
  const auto bodies = scene_.bodies_of(body.part);
  return std::any_of(bodies.begin(), bodies.end(),
                     [&](const Body& other) { return screws.round_the_pipe(other.solid); });
}

/// Nothing but holes along the screws holds the board, and nothing lies on it.
bool Judge::hangs_in_holes(const Screws& screws, PartId part) const {
  const auto& contacts = scene_.at(part);
  return scene_.board(part) != nullptr && std::all_of(contacts.begin(), contacts.end(), [&](ContactId id) {
           const Contact& c = scene_.contact(id);
           if (screws.made[at(id)] == 0) return true;
           return hole_like(c) && c.a == part && parallel(c.axis, screws.away);
         });
}

/// Why the part stays over the screws; nothing for a board that can be pushed along its pipes until the way is clear.
Obstacle Judge::cannot_be_pushed(Screws& screws, PartId part) {
  const Vec3 out = screws.away.unit();
  const double from = dot(screws.heads(), out), to = from + scene_.frame().driver;
  double low = to;
  for (const Body& body : scene_.bodies_of(part)) low = std::min(low, -reach_along(body.solid, -out));
  const Message over =
      message("{} is {} over its screws", called(scene_, part), shop_length(std::max(0.0, low - from), scene_));
  const model::Board* wood = scene_.board(part);
  if (wood == nullptr || wood->holes.empty() || !parallel(wood->facing, screws.away) || !hangs_in_holes(screws, part)) {
    return over;
  }
  const PartId stop = stopped_when_pushed(screws, part, to - beginning_of(*wood, out));
  if (stop == part) return over;
  if (stop != model::kNone) return message("{}, kept there by {}", over, called(scene_, stop));
  return {};
}

/// What stops the board before it has gone so far along the screws, itself where it is a surface, or kNone. Boards that
/// hang in their holes go along.
PartId Judge::stopped_when_pushed(Screws& screws, PartId part, double way) {
  const Vec3 out = screws.away.unit();
  const model::Board* wood = scene_.board(part);
  const Solid whole = model::box(wood->lo, wood->hi);
  const double front = reach_along(whole, out), touch = scene_.list().touch;
  for (std::size_t s = 0; screws.cluster.holds_room() && s < scene_.frame().surfaces.size(); ++s) {
    const model::Surface& surface = scene_.frame().surfaces[s];
    const Vec3 in = -surface.normal.unit();
    if (depth_behind(surface, reach_along(whole, in) + std::max(0.0, way * dot(out, in))) >= touch) return part;
  }
  const auto stopped_by = [&](const Body& other) {
    for (const model::Hole& hole : wood->holes) {
      if (!coaxial(other.solid, hole.centre, wood->facing)) continue;
      if (scene_.slips_through(2.0 * other.solid.radius, hole)) return false;
      const double begins = -reach_along(other.solid, -out), ends = reach_along(other.solid, out);
      return ends > front + touch && begins < front + way - touch;
    }
    if (lies_on(scene_, part, other.part, screws.away)) return false;
    const auto boxes = scene_.bodies_of(part);
    return std::any_of(boxes.begin(), boxes.end(),
                       [&](const Body& mine) { return model::hits(mine.thing(), other.thing(), out * way, touch); });
  };
  for (const int index : scene_.near(swept({wood->lo, wood->hi}, out * way))) {
    const Body& other = scene_.body(index);
    if (other.part == part || !stopped_by(other) || !screws.pieces.same(other.part, part)) continue;
    if (!hangs_in_holes(screws, other.part)) return other.part;
    const double gap = beginning_of(*scene_.board(other.part), out) - front;
    const double rest = way - std::max(0.0, gap);
    if (gap <= -touch || rest <= touch) continue;
    const PartId stop = stopped_when_pushed(screws, other.part, rest);
    if (stop != model::kNone) return stop == other.part ? part : stop;
  }
  return model::kNone;
}

}  // namespace dryfit::planner::judge
