/// Unscrewing: which side can turn, and what it would swing through. What it takes along: replay_carried.cpp.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/judge/replay_turn.hpp"

namespace dryfit::planner::judge {

using model::Bounds;
using model::Direction;
using model::Vec3;

namespace {

bool among(const std::vector<PartId>& parts, PartId part) {
  return std::find(parts.begin(), parts.end(), part) != parts.end();
}

}  // namespace

Verdict Judge::unscrew(const Made& made, ContactId thread, const Wanted& wanted) {
  const Contact& c = scene_.contact(thread);
  const model::Joint& joint = scene_.frame().joint(c.joint);
  Turn turn{made,
            thread,
            c,
            joint.engaged,
            Pieces(scene_, made, {.contact = thread, .line = c.line}, marks_),
            Cluster(scene_, made, c.a, cluster_marks_)};
  const auto cannot = [&] {
    return message("{} cannot be screwed into {}", called(scene_, c.a), called(scene_, c.b));
  };
  const auto cannot_with = [&](const std::vector<Message>& side) {
    return message("{0} cannot be screwed into {1} with {2} turning", called(scene_, c.a), called(scene_, c.b),
                   listed(side));
  };
  if (turn.pieces.same(c.a, c.b)) {
    return refused(with_reason(cannot(),
                               message("neither side of {} can turn, both are held together through {}", c.id,
                                       between(scene_, c.a, turn.pieces.way(c.a, c.b)))));
  }

  std::vector<Message> with_male, with_female, elsewhere;
  for (const PartId part : wanted.moving) {
    auto& side = turn.pieces.same(part, c.a) ? with_male : turn.pieces.same(part, c.b) ? with_female : elsewhere;
    side.push_back(called(scene_, part));
  }
  if (!with_male.empty() && !with_female.empty()) {
    return refused(with_reason(cannot_with(with_male),
                               message("{} is on the other side of the thread", listed(with_female))));
  }
  if (wanted.whole && !elsewhere.empty()) {
    return refused(with_reason(cannot_with(elsewhere), message("not on either side of the thread")));
  }
  // The side that is known through and through goes first: it is the smaller one.
  std::array<std::array<int, 2>, 2> sides{{{c.a, c.b}, {c.b, c.a}}};
  if (!turn.pieces.known(c.a)) std::swap(sides[0], sides[1]);
  if (with_male.empty() && with_female.empty()) {
    std::array<Obstacle, 2> obstacle;
    for (std::size_t i = 0; i < 2; ++i) {
      obstacle[i] = turning_blocked(turn, sides[i][0], sides[i][1]);
      if (!obstacle[i]) return {{thread}, {}};
    }
    if (sides[0][0] != c.a) std::swap(obstacle[0], obstacle[1]);
    return refused(with_reason(cannot(), *obstacle[0] + Message::as_it_is("; ") + *obstacle[1]));
  }
  const int turning = with_male.empty() ? c.b : c.a, still = with_male.empty() ? c.a : c.b;
  const Obstacle obstacle = turning_blocked(turn, turning, still);
  if (!obstacle) return {{thread}, {}};
  Message why = with_reason(cannot_with(with_male.empty() ? with_female : with_male), *obstacle);
  if (!turning_blocked(turn, still, turning)) {
    why += message("; it can be done with {} turning instead", called(scene_, still));
  }
  return refused(std::move(why));
}

Obstacle Judge::turning_blocked(Turn& turn, int turning, int still) {
  const int room = scene_.list().room();
  if (turn.pieces.same(turning, room)) {
    const std::vector<ContactId> way = turn.pieces.way(turning, room);
    return message("{} cannot turn, {} holds it", called(scene_, turning), scene_.contact(way.back()).id);
  }
  if (!parallel(turn.thread.axis, model::kUp)) {
    for (const PartId board : scene_.loose_boards()) {
      const auto& contacts = scene_.at(board);
      const bool laid = std::any_of(contacts.begin(), contacts.end(), [&](ContactId id) {
        return turn.made[at(id)] != 0 && scene_.contact(id).kind == ContactKind::rest && scene_.contact(id).a == board;
      });
      if (laid && turn.pieces.same(board, turning)) {
        return message("turning {} would throw off {}, which lies loose", called(scene_, turning),
                       called(scene_, board));
      }
    }
  }
  if (Obstacle hit = turning_hits(turn, turning, still)) return hit;
  if (Obstacle hit = turning_meets_surface(turn, turning)) return hit;
  if (Obstacle hit = taken_round_hits(turn, turning, still)) return hit;
  return float_missing(turn, turning, still);
}

Obstacle Judge::turning_hits(Turn& turn, int turning, int still) {
  const Contact& c = turn.thread;
  const Direction way = turn.way(turning);
  const model::Axis axis{c.on_axis, way};
  const int room = scene_.list().room();
  std::vector<PartId> boards_on_axis;
  for (const ContactId id : scene_.holes_on(c.line)) boards_on_axis.push_back(scene_.contact(id).a);

  const auto judged_elsewhere = [&](const Body& p, const Body& q) {
    if ((p.part == c.a && q.part == c.b) || (p.part == c.b && q.part == c.a)) return true;
    return (among(boards_on_axis, p.part) && coaxial(q.solid, c.on_axis, c.axis)) ||
           (among(boards_on_axis, q.part) && coaxial(p.solid, c.on_axis, c.axis));
  };
  // A thread on this very axis that is undone already draws out while its male part turns and leaves.
  const auto draws = [&](PartId p, PartId q) {
    if (!draws_out(scene_, p, q, way)) return false;
    for (const ContactId id : scene_.at(p)) {
      const Contact& other = scene_.contact(id);
      if (other.kind == ContactKind::thread && (other.a == q || other.b == q) && other.line == c.line) return true;
    }
    return false;
  };
  const auto collide = [&](const Body& moving, const Body& fixed) {
    return !judged_elsewhere(moving, fixed) &&
           turn_hits(moving.thing(), fixed.thing(), axis, turn.engaged, touch_of(scene_, moving.part, fixed.part)) &&
           !draws(moving.part, fixed.part);
  };
  const auto words = [&](PartId mover, PartId struck) {
    const Message it = called(scene_, turning), in_the_way = called(scene_, struck);
    return mover == turning ? message("turning {} would swing it through {}", it, in_the_way)
                            : message("turning {} would swing {} through {}", it, called(scene_, mover), in_the_way);
  };

  const bool from_other_side = !turn.pieces.known(turning) && turn.pieces.known(still) &&
                               (turn.pieces.same(still, room) || !turn.cluster.holds_room());
  for (const int part : turn.pieces.members(from_other_side ? still : turning)) {
    if (part == room) continue;
    for (const Body& body : scene_.bodies_of(part)) {
      const Bounds place = turned_bounds(body.solid, axis, from_other_side ? -turn.engaged : turn.engaged);
      for (const int index : scene_.near(place)) {
        const Body& other = scene_.body(index);
        if (from_other_side) {
          if (collide(other, body) && turn.pieces.same(other.part, turning)) return words(other.part, part);
          continue;
        }
        if (!collide(body, other) || turn.pieces.same(other.part, turning)) continue;
        if (turn.pieces.same(other.part, still) || (turn.pieces.same(other.part, room) && turn.cluster.holds_room())) {
          return words(part, other.part);
        }
      }
    }
  }
  return {};
}

Obstacle Judge::turning_meets_surface(Turn& turn, int turning) {
  if (scene_.frame().surfaces.empty() || !turn.cluster.holds_room()) return {};
  const model::Axis axis{turn.thread.on_axis, turn.way(turning)};
  for (const int part : turn.pieces.members(turning)) {
    for (const Body& body : scene_.bodies_of(part)) {
      for (std::size_t s = 0; s < scene_.frame().surfaces.size(); ++s) {
        const model::Surface& surface = scene_.frame().surfaces[s];
        const double reach = turn_reach(body.solid, axis, turn.engaged, -surface.normal.unit());
        if (depth_behind(surface, reach) < scene_.list().touch) continue;
        const Message it = called(scene_, turning), met = surface_called(scene_, static_cast<int>(s));
        return part == turning ? message("turning {} would swing it into {}", it, met)
                               : message("turning {} would swing {} into {}", it, called(scene_, part), met);
      }
    }
  }
  return {};
}

/// A board that hangs loose on the axis goes round with what it meets of the turning side, where it is, and so does each
/// board that it meets itself. Other loose things are turned out of the way.
Obstacle Judge::taken_round_hits(Turn& turn, int turning, int still) {
  const Contact& c = turn.thread;
  std::vector<PartId> boards_on_axis;
  bool any_made = false;
  for (const ContactId id : scene_.holes_on(c.line)) {
    boards_on_axis.push_back(scene_.contact(id).a);
    any_made = any_made || turn.made[at(id)] != 0;
  }
  if (!any_made) return {};
  const int room = scene_.list().room();
  const auto stays = [&](int part) {
    return turn.pieces.same(part, still) || (turn.cluster.holds_room() && turn.pieces.same(part, room));
  };
  const model::Axis axis{c.on_axis, turn.way(turning)};
  const auto meets = [&](const Body& p, const Body& q, double along) {
    if ((p.part == c.a && q.part == c.b) || (p.part == c.b && q.part == c.a)) return false;
    if (among(boards_on_axis, p.part) && coaxial(q.solid, c.on_axis, c.axis)) return false;
    if (among(boards_on_axis, q.part) && coaxial(p.solid, c.on_axis, c.axis)) return false;
    return turn_hits(p.thing(), q.thing(), axis, along, touch_of(scene_, p.part, q.part));
  };
  std::vector<int> going = turn.pieces.members(turning);
  const std::size_t own = going.size();
  for (std::size_t i = 0; i < going.size(); ++i) {
    if (going[i] == room) continue;
    const double along = i < own ? turn.engaged : 0.0;
    for (const Body& body : scene_.bodies_of(going[i])) {
      for (const int index : scene_.near(turned_bounds(body.solid, axis, along))) {
        const Body& other = scene_.body(index);
        if (std::find(going.begin(), going.end(), other.part) != going.end() || !turn.cluster.holds(other.part))
          continue;
        if (!meets(body, other, along)) continue;
        if (!stays(other.part)) {
          if (scene_.board(other.part) == nullptr) continue;
          const std::vector<int> load = turn.pieces.members(other.part);
          going.insert(going.end(), load.begin(), load.end());
        } else if (i >= own) {
          return message("turning {} would take {} round through {}", called(scene_, turning),
                         called(scene_, going[i]), called(scene_, other.part));
        }
      }
      if (i < own || !turn.cluster.holds_room()) continue;
      for (std::size_t s = 0; s < scene_.frame().surfaces.size(); ++s) {
        const model::Surface& surface = scene_.frame().surfaces[s];
        if (depth_behind(surface, turn_reach(body.solid, axis, 0.0, -surface.normal.unit())) < scene_.list().touch)
          continue;
        return message("turning {} would take {} round into {}", called(scene_, turning), called(scene_, going[i]),
                       surface_called(scene_, static_cast<int>(s)));
      }
    }
  }
  return {};
}

}  // namespace dryfit::planner::judge
