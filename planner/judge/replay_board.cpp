/// Boards that leave by themselves: swung out of open slots about a hole, or taken away.
#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"
#include "planner/judge/replay_cage.hpp"
#include "planner/judge/replay_judge.hpp"
#include "planner/judge/replay_swing.hpp"

namespace dryfit::planner::judge {

using model::Bounds;
using model::Direction;
using model::Solid;
using model::Vec3;

/// A pipe that moves by less than this for each unit of turning, along the side to which its slot opens, does not leave
/// it, mm.
constexpr double kLeastArm = 1.0;
/// How far a laid board is lifted the way it faces, mm.
constexpr double kLift = 50.0;

/// One board about to leave, and what it was joined to.
struct Judge::Lift {
  const Made& made;
  PartId board;
  Pieces pieces;  ///< G: all made contacts but the board's own
  Cluster cluster;
  std::vector<ContactId> undone;  ///< ascending
  std::vector<int> joined;        ///< what the board's contacts join to it, ascending
};

namespace {

bool is_made(const Made& made, ContactId id) { return made[dryfit::at(id)] != 0; }

/// True when the solid lies on the line of one of the board's slots and fits through it.
bool passes_slot(const Scene& scene, const model::Board& wood, const Solid& solid) {
  return std::any_of(wood.holes.begin(), wood.holes.end(), [&](const model::Hole& hole) {
    return hole.notch && coaxial(solid, hole.centre, wood.facing) && scene.slips_through(2.0 * solid.radius, hole);
  });
}

}  // namespace

int sense_out_of(const model::Hole& slot, Vec3 pivot, Direction facing) {
  // The pipe goes, seen from a board that turns with sense +1, against the way of the board's own point there.
  const double leaves = -dot(cross(facing.unit(), slot.centre - pivot), slot.open.unit());
  return std::abs(leaves) < kLeastArm ? 0 : leaves > 0 ? 1 : -1;
}

std::optional<SwingOut> swing_out(const Scene& scene, const Made& made, PartId board) {
  SwingOut turn;
  const model::Board& wood = *scene.board(board);
  for (const ContactId id : scene.at(board)) {
    if (scene.contact(id).kind != ContactKind::hole || !is_made(made, id)) continue;
    if (turn.hole != model::kNone) return {};
    turn.hole = id;
  }
  if (turn.hole == model::kNone) return {};
  const Vec3 pivot = scene.contact(turn.hole).on_axis;
  for (const ContactId id : scene.at(board)) {
    const Contact& c = scene.contact(id);
    if (c.kind != ContactKind::notch || !is_made(made, id)) continue;
    const int sense = sense_out_of(scene.hole(c), pivot, wood.facing);
    if (sense == 0 || (turn.sense != 0 && turn.sense != sense)) return {};
    turn.sense = sense;
    for (const Body& pipe : scene.bodies_of(c.b)) {
      const std::optional<double> out = slot_left_at(wood, pipe.solid, pivot, wood.facing, sense, scene.list().touch);
      if (!out) return {};
      turn.angle = std::max(turn.angle, *out);
    }
  }
  if (turn.sense == 0) return {};
  return turn;
}

/// What is made to the board that keeps it from leaving by itself; empty when nothing is.
Message Judge::burden(const Made& made, PartId board) const {
  for (const ContactId id : scene_.at(board)) {
    const Contact& c = scene_.contact(id);
    if (!is_made(made, id)) continue;
    if (c.kind == ContactKind::fastening) return message("{} already holds it", c.id);
    if (c.kind == ContactKind::rest && c.b == board) return message("{} already lies on it", called(scene_, c.a));
  }
  return {};
}

std::vector<Message> Judge::in_the_way(Lift& lift, const Bounds& place,
                                       const std::function<bool(const Body&)>& hit) {
  const int room = scene_.list().room();
  std::vector<Message> names;
  for (const int index : scene_.near(place)) {
    const Body& other = scene_.body(index);
    if (other.part == lift.board || !hit(other)) continue;
    const bool joined =
        std::any_of(lift.joined.begin(), lift.joined.end(), [&](int end) { return lift.pieces.same(other.part, end); });
    if (!joined && !(lift.pieces.same(other.part, room) && lift.cluster.holds_room())) continue;
    name_next(names, called(scene_, other.part));
  }
  return names;
}

std::vector<Message> Judge::carried_into(Lift& lift, Vec3 by) {
  const model::Board& wood = *scene_.board(lift.board);
  std::vector<Message> names = in_the_way(lift, swept({wood.lo, wood.hi}, by), [&](const Body& other) {
    if (passes_slot(scene_, wood, other.solid) || carries(scene_, other.part, lift.board)) return false;
    const auto bodies = scene_.bodies_of(lift.board);
    return std::any_of(bodies.begin(), bodies.end(), [&](const Body& body) {
      return hits(body.thing(), other.thing(), by, touch_of(scene_, lift.board, other.part));
    });
  });
  const auto& surfaces = scene_.frame().surfaces;
  if (surfaces.empty() || !lift.cluster.holds_room()) return names;
  for (std::size_t s = 0; s < surfaces.size(); ++s) {
    const Vec3 outward = -surfaces[s].normal.unit();
    const double reach = reach_along(model::box(wood.lo, wood.hi), outward) + std::max(0.0, dot(outward, by));
    if (depth_behind(surfaces[s], reach) >= scene_.list().touch) {
      names.push_back(surface_called(scene_, static_cast<int>(s)));
    }
  }
  return names;
}

Verdict Judge::off_pipe(const Made& made, ContactId hole, const Named& named) {
  const Contact& c = scene_.contact(hole);
  Verdict along = slide_apart(made, hole, named);
  if (along.legal() || c.kind != ContactKind::notch) return along;
  Verdict out = sideways(made, hole, named);
  if (out.legal()) return out;
  Verdict about = swing(made, c.a, named);
  if (about.legal()) return about;
  return refused(along.why + Message::as_it_is("; ") + (swing_out(scene_, made, c.a) ? about.why : out.why));
}

Verdict Judge::swing(const Made& made, PartId board, const Named& named) {
  const auto refuse = [&](const Message& reason) {
    return refused(with_reason(message("{} cannot swing into its notches", called(scene_, board)), reason));
  };
  const std::optional<SwingOut> turn = swing_out(scene_, made, board);
  if (!turn) return refuse(message("that takes one made hole, and notches that all open the way it turns"));
  Lift lift{made, board, Pieces(scene_, made, {.vertex = board}, marks_), Cluster(scene_, made, board, cluster_marks_),
            {},   {}};
  for (const ContactId id : scene_.at(board)) {
    const Contact& c = scene_.contact(id);
    if (!is_made(made, id) || !hole_like(c)) continue;
    if (c.kind == ContactKind::notch) lift.undone.push_back(id);
    lift.joined.push_back(c.b);
  }
  for (const ContactId id : lift.undone) {
    if (const Obstacle tight = tight_in_slot(scene_.contact(id), true)) return refuse(*tight);
  }
  if (const Message held = burden(made, board); !held.empty()) return refuse(held);
  if (const Message other = not_the_step(scene_, lift.undone, named); !other.empty()) return refuse(other);
  const model::Board& wood = *scene_.board(board);
  const Contact& about = scene_.contact(turn->hole);
  const Solid whole = model::box(wood.lo, wood.hi);
  const std::vector<Solid> bodies = board_bodies(wood);
  std::vector<Message> struck = in_the_way(
      lift, quarter_turn_bounds(whole, about.on_axis, about.axis, turn->sense, turn->angle), [&](const Body& other) {
        if (passes_slot(scene_, wood, other.solid) || coaxial(other.solid, about.on_axis, about.axis) ||
            carries(scene_, other.part, board)) {
          return false;
        }
        return std::any_of(bodies.begin(), bodies.end(), [&](const Solid& body) {
          return quarter_turn_hits(body, about.on_axis, about.axis, turn->sense, other.solid,
                                   touch_of(scene_, board, other.part), turn->angle);
        });
      });
  const auto& surfaces = scene_.frame().surfaces;
  if (!surfaces.empty() && lift.cluster.holds_room()) {
    for (std::size_t s = 0; s < surfaces.size(); ++s) {
      const double reach =
          quarter_turn_reach(whole, about.on_axis, about.axis, turn->sense, -surfaces[s].normal.unit(), turn->angle);
      if (depth_behind(surfaces[s], reach) >= scene_.list().touch) {
        struck.push_back(surface_called(scene_, static_cast<int>(s)));
      }
    }
  }
  if (struck.empty()) return {lift.undone, {}};
  return refused(message("{} cannot swing into its notches about {}: {} would be in its way", called(scene_, board),
                         called(scene_, about.b), listed(struck)));
}

Verdict Judge::take_away(const Made& made, PartId board, const Named& named) {
  const auto refuse = [&](const Message& reason) {
    return refused(with_reason(message("{} cannot be laid", called(scene_, board)), reason));
  };
  Lift lift{made, board, Pieces(scene_, made, {.vertex = board}, marks_), Cluster(scene_, made, board, cluster_marks_),
            {},   {}};
  for (const ContactId id : scene_.at(board)) {
    const Contact& c = scene_.contact(id);
    if (!is_made(made, id) || c.kind != ContactKind::rest || c.a != board) continue;
    lift.undone.push_back(id);
    lift.joined.push_back(c.b);
  }
  if (const Message held = burden(made, board); !held.empty()) return refuse(held);
  if (const Message other = not_the_step(scene_, lift.undone, named); !other.empty()) return refuse(other);
  const model::Board& wood = *scene_.board(board);
  std::vector<Message> in_way = carried_into(lift, wood.facing.unit() * kLift);
  if (in_way.empty()) {
    const bool in_room = lift.cluster.holds_room();
    const auto stays = [&](PartId other) {
      return (in_room && lift.pieces.same(other, scene_.list().room())) ||
             std::any_of(lift.joined.begin(), lift.joined.end(), [&](int end) { return lift.pieces.same(other, end); });
    };
    const std::optional<Message> lid = lid_of_cage(scene_, board, lift.joined, stays, in_room);
    if (!lid) return {lift.undone, {}};
    in_way.push_back(*lid);
  }
  Message why = message("{}, {} would be in its way", coming_from(wood.facing), listed(in_way));
  for (const Direction way : model::all_directions()) {
    if (!way.along_axis() || !square(way, wood.facing)) continue;
    const Vec3 unit = way.unit();
    double travel = 0.0;
    for (const int carrier : lift.joined) {
      for (const Body& body : scene_.bodies_of(carrier)) {
        travel = std::max(travel, reach_along(body.solid, unit) + reach_along(model::box(wood.lo, wood.hi), -unit));
      }
    }
    in_way = carried_into(lift, unit * travel);
    if (in_way.empty()) return {lift.undone, {}};
    why += message("; {}, {}", coming_from(way), listed(in_way));
  }
  return refuse(why);
}

}  // namespace dryfit::planner::judge
