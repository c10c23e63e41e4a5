/// Sliding apart along a direction: boards off pipes, runs out of boards.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "model/geometry/at.hpp"
#include "planner/judge/replay_judge.hpp"
#include "planner/judge/replay_swing.hpp"

namespace dryfit::planner::judge {

using model::Direction;
using model::Solid;
using model::Vec3;

/// One piece K and what holds it in its holes.
struct Judge::Slide {
  Pieces pieces;  ///< G
  Cluster cluster;
  std::vector<int> k;               ///< K, ascending
  std::vector<ContactId> left_out;  ///< made holes and notches along the direction between K and R, ascending
  std::vector<int> against;         ///< the ends of `left_out` in R
  bool k_holds_room = false;
  std::optional<model::Wood> turned_aside;  ///< K is one board that was swung out of its notches: its wood there
  PartId named_board = model::kNone;        ///< the board that the refusal speaks of
  [[nodiscard]] bool in_k(int vertex) const { return std::binary_search(k.begin(), k.end(), vertex); }
  /// True when q is judged against K: it belongs to R.
  [[nodiscard]] bool in_r(int q, int room) {
    if (in_k(q)) return false;
    for (const int end : against) {
      if (pieces.same(q, end)) return true;
    }
    return pieces.same(q, room) && cluster.holds_room();
  }
};

Verdict Judge::slide_apart(const Made& made, ContactId hole, const std::vector<ContactId>& allowed) {
  const Contact& c = scene_.contact(hole);
  const int room = scene_.list().room();
  const std::string onto = called(scene_, c.a) + " cannot slide over " + called(scene_, c.b);
  Slide slide{Pieces(scene_, made, {.along = c.axis}, marks_),
              Cluster(scene_, made, c.a, cluster_marks_),
              {},
              {},
              {},
              false,
              {},
              model::kNone};
  if (slide.pieces.same(c.a, c.b)) {
    return refused(
        fmt::format("{}: both are held together through {}", onto, between(scene_, c.a, slide.pieces.way(c.a, c.b))));
  }
  std::array<int, 2> seeds{c.a, c.b};
  if (!slide.pieces.known(c.a)) std::swap(seeds[0], seeds[1]);

  std::string why;
  std::vector<std::string> unnamed;
  for (const int seed : seeds) {
    slide.k = slide.pieces.members(seed);
    slide.left_out.clear();
    slide.against.clear();
    slide.turned_aside.reset();
    for (const int vertex : slide.k) {
      for (const ContactId id : scene_.at(vertex)) {
        const Contact& other = scene_.contact(id);
        if (made[at(id)] == 0 || slide.pieces.holds(id)) continue;
        const int end = other.a == vertex ? other.b : other.a;
        if (slide.in_k(end)) continue;
        slide.left_out.push_back(id);
        slide.against.push_back(end);
      }
    }
    std::sort(slide.left_out.begin(), slide.left_out.end());
    std::sort(slide.against.begin(), slide.against.end());
    slide.against.erase(std::unique(slide.against.begin(), slide.against.end()), slide.against.end());
    std::vector<std::string> extra = not_allowed(scene_, slide.left_out, allowed);
    if (!extra.empty()) {
      if (unnamed.empty() || extra.size() < unnamed.size()) unnamed = std::move(extra);
      continue;
    }
    slide.k_holds_room = slide.pieces.same(seed, room);
    slide.named_board = seed == c.a ? c.a : model::kNone;
    const std::string cannot = seed == c.a ? onto : called(scene_, c.b) + " cannot pass through " + called(scene_, c.a);
    std::array<std::string, 2> obstacle;
    for (std::size_t i = 0; i < 2; ++i) {
      const Direction way = i == 0 ? c.axis : -c.axis;
      const Obstacle blocked = sliding_blocked(slide, way);
      if (!blocked) return {slide.left_out, {}};
      obstacle[i] = *blocked;
    }
    // A board that was swung out of its notches is slid from where it was swung to.
    if (slide.k.size() == 1 && seed == c.a && slide.left_out.size() == 1) {
      if (const auto turn = quarter_turn(scene_, made, c.a, false); turn && turn->hole == slide.left_out[0]) {
        slide.turned_aside = quarter_turned(wood_of(*scene_.board(c.a)), c.on_axis, c.axis, turn->sense);
        for (const Direction way : {c.axis, -c.axis}) {
          if (!sliding_blocked(slide, way)) return {slide.left_out, {}};
        }
      }
    }
    if (!why.empty()) continue;
    why = obstacle[0] == obstacle[1] ? fmt::format("{}: {}", cannot, obstacle[0])
                                     : fmt::format("{}: from {}, {}; from {}, {}", cannot, coming_from(c.axis),
                                                   obstacle[0], coming_from(-c.axis), obstacle[1]);
  }
  if (why.empty()) {
    why = fmt::format("{} alone: the same move makes {}, which the step does not name", onto, listed(unnamed));
  }
  return refused(std::move(why));
}

Obstacle Judge::sliding_blocked(Slide& slide, Direction way) {
  // Until the board of every contact is past its pipe's own end.
  const Vec3 unit = way.unit();
  double travel = 0.0;
  for (const ContactId id : slide.left_out) {
    const Contact& c = scene_.contact(id);
    const model::Board& wood = *scene_.board(c.a);
    const Solid whole = model::box(wood.lo, wood.hi);
    const Vec3 leaving = slide.in_k(c.a) ? unit : -unit;  // of the board, seen from the pipe
    for (const Body& pipe : scene_.bodies_of(c.b)) {
      travel = std::max(travel, reach_along(pipe.solid, leaving) + reach_along(whole, -leaving));
    }
  }
  if (Obstacle wide = too_wide(slide, way, travel)) return wide;
  if (Obstacle hit = sliding_hits(slide, way, travel)) return hit;
  return sliding_meets_surface(slide, way, travel);
}

Obstacle Judge::too_wide(Slide& slide, Direction way, double travel) {
  const int room = scene_.list().room();
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
      if (width <= hole.diameter - kPassing) continue;
      const double from = -reach_along(other.solid, -leaving), to = reach_along(other.solid, leaving);
      const bool left_behind = to < back + model::kTouch || (from < back && to < front);
      if (left_behind || from > front + travel - model::kTouch) continue;
      if (board_in_k ? !slide.in_r(other.part, room) : !slide.in_k(other.part)) continue;
      const std::string it = other.part == c.b ? called(scene_, c.b) : called(scene_, other.part) + " on its line";
      const std::string its_hole =
          c.a == slide.named_board ? (hole.notch ? "its notch" : "its hole")
                                   : fmt::format("the {} in {}", hole.notch ? "notch" : "hole", called(scene_, c.a));
      return fmt::format("{} is {} {} ({} against {})", it, width > hole.diameter ? "wider than" : "too tight in",
                         its_hole, shop_length(width, scene_), shop_length(hole.diameter, scene_));
    }
  }
  return {};
}

Obstacle Judge::sliding_hits(Slide& slide, Direction way, double travel) {
  const int room = scene_.list().room();
  const Vec3 by = way.unit() * travel;
  // What lies on the line of a hole that lets go is judged by its diameter.
  const auto on_line_of = [&](PartId board, const Solid& solid) {
    return std::any_of(slide.left_out.begin(), slide.left_out.end(), [&](ContactId id) {
      const Contact& c = scene_.contact(id);
      return c.a == board && coaxial(solid, c.on_axis, c.axis);
    });
  };
  for (const int part : slide.k) {
    if (part == room) continue;
    for (const Body& body : scene_.bodies_of(part)) {
      const Solid solid = slide.turned_aside ? model::box(slide.turned_aside->lo, slide.turned_aside->hi) : body.solid;
      const model::Thing moving{solid, slide.turned_aside ? &*slide.turned_aside : body.wood};
      for (const int index : scene_.near(swept(bounds_of(solid), by))) {
        const Body& other = scene_.body(index);
        if (slide.in_k(other.part) || on_line_of(part, other.solid) || on_line_of(other.part, solid)) continue;
        const double touch = touch_of(scene_, part, other.part);
        const bool hit =
            slide.k_holds_room ? hits(other.thing(), moving, -by, touch) : hits(moving, other.thing(), by, touch);
        if (!hit || draws_out(scene_, part, other.part, way) || lifts_off(scene_, part, other.part, way) ||
            !slide.in_r(other.part, room)) {
          continue;
        }
        const PartId mover = slide.k_holds_room ? other.part : part, struck = slide.k_holds_room ? part : other.part;
        return fmt::format("{} would run into {}", mover == slide.named_board ? "it" : called(scene_, mover),
                           called(scene_, struck));
      }
    }
  }
  return {};
}

Obstacle Judge::sliding_meets_surface(Slide& slide, Direction way, double travel) {
  const auto& surfaces = scene_.frame().surfaces;
  if (surfaces.empty() || !slide.cluster.holds_room()) return {};
  const Vec3 by = way.unit() * (slide.k_holds_room ? -travel : travel);
  const auto check = [&](int part, const Solid& solid) -> Obstacle {
    for (std::size_t s = 0; s < surfaces.size(); ++s) {
      const Vec3 outward = -surfaces[s].normal.unit();
      if (depth_behind(surfaces[s], reach_along(solid, outward) + std::max(0.0, dot(outward, by))) < model::kTouch) {
        continue;
      }
      return fmt::format("{} would run into {}", part == slide.named_board ? "it" : called(scene_, part),
                         surface_called(scene_, static_cast<int>(s)));
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
      const bool aside = !slide.k_holds_room && slide.turned_aside.has_value();
      if (Obstacle hit = check(part, aside ? model::box(slide.turned_aside->lo, slide.turned_aside->hi) : body.solid)) {
        return hit;
      }
    }
  }
  return {};
}

}  // namespace dryfit::planner::judge
