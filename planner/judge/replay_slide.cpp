/// Sliding apart along a direction: boards off pipes, runs out of boards.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "planner/judge/replay_slide.hpp"

namespace dryfit::planner::judge {

using model::Direction;
using model::Solid;
using model::Vec3;

namespace {

/// A hole or notch of the board that is spoken of, or of another.
Message hole_said(const model::Hole& hole, bool its_own, const Message& board) {
  if (its_own) return hole.notch ? message("its notch") : message("its hole");
  return hole.notch ? message("the notch in {}", board) : message("the hole in {}", board);
}

}  // namespace

Verdict Judge::slide_apart(const Made& made, ContactId hole, const Named& named) {
  const Contact& c = scene_.contact(hole);
  const auto onto = [&] { return message("{} cannot slide over {}", called(scene_, c.a), called(scene_, c.b)); };
  Slide slide{.pieces = Pieces(scene_, made, {.along = c.axis}, marks_),
              .cluster = Cluster(scene_, made, c.a, cluster_marks_),
              .made = &made};
  if (slide.pieces.same(c.a, c.b)) {
    const Message through = between(scene_, c.a, slide.pieces.way(c.a, c.b));
    return refused(with_reason(onto(), message("both are held together through {}", through)));
  }
  std::array<int, 2> seeds{c.a, c.b};
  if (!slide.pieces.known(c.a)) std::swap(seeds[0], seeds[1]);

  Message why;
  Message other_move;
  for (const int seed : seeds) {
    slide.take(slide.pieces.members(seed), scene_, made, [&](ContactId id) { return !slide.pieces.holds(id); });
    slide.k_holds_room = slide.pieces.same(seed, scene_.list().room());
    if (slide.k_holds_room) slide.keep_linked(scene_, made, seed == c.a ? c.b : c.a);
    if (Message other = not_the_step(scene_, slide.left_out, named); !other.empty()) {
      if (other_move.empty() || other.english().size() < other_move.english().size()) other_move = std::move(other);
      continue;
    }
    slide.named_board = seed == c.a ? c.a : model::kNone;
    const Obstacle blocked = blocked_both_ways(slide, c);
    if (!blocked || slides_turned_aside(slide, made, c)) return {slide.left_out, {}};
    if (!why.empty()) continue;
    const auto through = [&] {
      return message("{} cannot pass through {}", called(scene_, c.b), called(scene_, c.a));
    };
    why = with_reason(seed == c.a ? onto() : through(), *blocked);
  }
  return refused(why.empty() ? message("{} alone: {}", onto(), other_move) : why);
}

Obstacle Judge::blocked_both_ways(Slide& slide, const Contact& c) {
  const Obstacle one = sliding_blocked(slide, c.axis);
  if (!one) return {};
  const Obstacle other = sliding_blocked(slide, -c.axis);
  if (!other) return {};
  if (one->english() == other->english()) return one;
  return message("{}, {}; {}, {}", coming_from(c.axis), *one, coming_from(-c.axis), *other);
}

double Judge::sliding_travel(const Slide& slide, Direction way) const {
  // Until the board of every contact is past the end of its pipe and of what it slips over beyond, or past its side.
  const Vec3 unit = way.unit();
  double travel = 0.0;
  for (const ContactId id : slide.left_out) {
    const Contact& c = scene_.contact(id);
    const model::Board& wood = *scene_.board(c.a);
    const Solid whole = model::box(wood.lo, wood.hi);
    const Vec3 leaving = slide.in_k(c.a) ? unit : -unit;  // of the board, seen from the pipe
    for (const PartId part : strung(slide, c)) {
      for (const Body& body : scene_.bodies_of(part)) {
        travel = std::max(travel, reach_along(body.solid, leaving) + reach_along(whole, -leaving));
      }
    }
  }
  return travel;
}

std::vector<PartId> Judge::strung(const Slide& slide, const Contact& hole) const {
  std::vector<PartId> run{hole.b};
  const auto slips_over = [&](PartId part) {
    const auto& bodies = scene_.bodies_of(part);
    return std::all_of(bodies.begin(), bodies.end(), [&](const Body& body) {
      return !coaxial(body.solid, hole.on_axis, hole.axis) ||
             scene_.slips_through(2.0 * body.solid.radius, scene_.hole(hole));
    });
  };
  for (std::size_t i = 0; slide.made != nullptr && i < run.size(); ++i) {
    for (const ContactId id : scene_.at(run[i])) {
      const Contact& c = scene_.contact(id);
      const bool on_line = c.kind == ContactKind::nut || (c.kind == ContactKind::thread && c.line == hole.line);
      if (!on_line || (*slide.made)[dryfit::at(id)] == 0) continue;
      const PartId next = c.a == run[i] ? c.b : c.a;
      if (std::find(run.begin(), run.end(), next) == run.end() && slips_over(next)) run.push_back(next);
    }
  }
  return run;
}

Obstacle Judge::sliding_blocked(Slide& slide, Direction way) {
  const double travel = sliding_travel(slide, way);
  if (Obstacle wide = slide.out_of_slots ? tight_in_slot(slide) : too_wide(slide, way, travel)) return wide;
  if (Obstacle hit = sliding_hits(slide, way, travel)) return hit;
  return sliding_meets_surface(slide, way, travel);
}

Obstacle Judge::too_wide(Slide& slide, Direction way, double travel) {
  const int room = scene_.list().room();
  const double touch = scene_.list().touch;
  for (const ContactId id : slide.left_out) {
    const Contact& c = scene_.contact(id);
    const model::Board& wood = *scene_.board(c.a);
    const model::Hole& hole = scene_.hole(c);
    const bool board_in_k = slide.in_k(c.a);
    const Vec3 leaving = board_in_k ? way.unit() : -way.unit();
    const Solid whole = model::box(wood.lo, wood.hi);
    const double front = reach_along(whole, leaving), back = -reach_along(whole, -leaving);
    for (const int index : scene_.near(swept({wood.lo, wood.hi}, leaving * travel))) {
      const Body& other = scene_.body(index);
      if (other.part == c.a || !coaxial(other.solid, hole.centre, wood.facing)) continue;
      const double width = 2.0 * other.solid.radius;
      if (scene_.slips_through(width, hole)) continue;
      const double from = -reach_along(other.solid, -leaving), to = reach_along(other.solid, leaving);
      const bool left_behind = to < back + touch || (from < back && to < front) ||
                               (leaving == wood.facing.unit() && carries(scene_, other.part, c.a));
      if (left_behind || from > front + travel - touch) continue;
      const bool across_from_k = slide.in_r(other.part, room) ||
                                 (!slide.stays_with_k(other.part) && hangs_in_the_way(slide, other.part));
      if (board_in_k ? !across_from_k : !slide.in_k(other.part)) continue;
      const Message name = called(scene_, other.part);
      const Message it = other.part == c.b ? name : message("{} on its line", name);
      const Message its_hole = hole_said(hole, c.a == slide.named_board, called(scene_, c.a));
      const double told = width > hole.diameter + model::kTouch ? width : widest_at(other.part, hole, wood.facing);
      return it + Message::as_it_is(" ") + against_hole(told, hole.diameter, its_hole, scene_);
    }
  }
  return {};
}

double Judge::widest_at(PartId part, const model::Hole& hole, Direction along) const {
  double widest = 0.0;
  for (const Body& body : scene_.bodies_of(part)) {
    if (coaxial(body.solid, hole.centre, along)) widest = std::max(widest, 2.0 * body.solid.radius);
  }
  return widest;
}

Obstacle Judge::tight_in_slot(const Slide& slide) const {
  for (const ContactId id : slide.left_out) {
    const Contact& c = scene_.contact(id);
    if (Obstacle tight = tight_in_slot(c, c.a == slide.named_board)) return tight;
  }
  return {};
}

Obstacle Judge::tight_in_slot(const Contact& notch, bool its_own) const {
  const model::Hole& slot = scene_.hole(notch);
  const double width = widest_at(notch.b, slot, notch.axis);
  if (scene_.slips_through(width, slot)) return {};
  const Message its_notch = hole_said(slot, its_own, called(scene_, notch.a));
  return called(scene_, notch.b) + Message::as_it_is(" ") + against_hole(width, slot.diameter, its_notch, scene_);
}

Obstacle Judge::sliding_hits(Slide& slide, Direction way, double travel) {
  const int room = scene_.list().room();
  const Vec3 by = way.unit() * travel;
  const auto words = [&](PartId mover, PartId struck) {
    if (mover != slide.named_board) {
      return message("{} would run into {}", called(scene_, mover), called(scene_, struck));
    }
    return slide.out_of_slots ? message("{} would be in its way", called(scene_, struck))
                              : message("it would run into {}", called(scene_, struck));
  };
  for (const int part : slide.k) {
    if (part == room) continue;
    for (const Body& body : scene_.bodies_of(part)) {
      const Solid& solid = body.solid;
      for (const int index : scene_.near(swept(bounds_of(solid), by))) {
        const Body& other = scene_.body(index);
        if (slide.in_k(other.part) || judged_by_width(slide, part, other.solid) ||
            judged_by_width(slide, other.part, solid)) {
          continue;
        }
        const double touch = touch_of(scene_, part, other.part);
        const bool hit = slide.k_holds_room ? hits(other.thing(), body.thing(), -by, touch)
                                            : hits(body.thing(), other.thing(), by, touch);
        if (!hit || draws_out(scene_, part, other.part, way) || lies_on(scene_, part, other.part, way)) continue;
        if (!slide.in_r(other.part, room) &&
            (slide.stays_with_k(other.part) || !hangs_in_the_way(slide, other.part))) {
          continue;
        }
        return slide.k_holds_room ? words(other.part, part) : words(part, other.part);
      }
    }
  }
  if (slide.made == nullptr) return {};
  if (slide.others_on_k) {
    if (Obstacle hit = runs_into_what_hangs(slide, -by)) return hit;
  }
  return runs_into_end(slide, slide.k_holds_room ? -by : by);
}

bool Judge::judged_by_width(const Slide& slide, PartId board, const Solid& solid) const {
  return std::any_of(slide.left_out.begin(), slide.left_out.end(), [&](ContactId id) {
    const Contact& c = scene_.contact(id);
    return c.a == board && coaxial(solid, c.on_axis, c.axis) &&
           (!slide.out_of_slots || scene_.slips_through(2.0 * solid.radius, scene_.hole(c)));
  });
}

Obstacle Judge::sliding_meets_surface(Slide& slide, Direction way, double travel) {
  const auto& surfaces = scene_.frame().surfaces;
  if (surfaces.empty() || !slide.cluster.holds_room()) return {};
  const Vec3 by = way.unit() * (slide.k_holds_room ? -travel : travel);
  const auto check = [&](int part, const Solid& solid) -> Obstacle {
    for (std::size_t s = 0; s < surfaces.size(); ++s) {
      const Vec3 outward = -surfaces[s].normal.unit();
      if (depth_behind(surfaces[s], reach_along(solid, outward) + std::max(0.0, dot(outward, by))) <
          scene_.list().touch) {
        continue;
      }
      const Message it = surface_called(scene_, static_cast<int>(s));
      if (part != slide.named_board) return message("{} would run into {}", called(scene_, part), it);
      return slide.out_of_slots ? message("{} would be in its way", it) : message("it would run into {}", it);
    }
    return {};
  };
  std::vector<int> movers;
  if (!slide.k_holds_room) {
    movers = slide.k;
  } else {
    for (const int end : slide.against) {
      const std::vector<int> piece = slide.pieces.members(end);
      movers.insert(movers.end(), piece.begin(), piece.end());
    }
  }
  for (const int part : movers) {
    for (const Body& body : scene_.bodies_of(part)) {
      if (Obstacle hit = check(part, body.solid)) return hit;
    }
  }
  return {};
}

}  // namespace dryfit::planner::judge
