#include "tests/support/oracle/oracle_judge.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "model/geometry/at.hpp"

namespace dryfit::test {
namespace {

/// Slack on the two sides of a limit inside which a judgment is in doubt, mm. Bodies that touch overlap by 0, so the
/// lower side must stay under the limit itself.
constexpr double kDoubtBelow = 0.4;
constexpr double kDoubtAbove = 1.0;

constexpr double kFullTurn = 2.0 * std::numbers::pi;

template <typename HitsByTouch>
Verdict judged(double touch, const HitsByTouch& hits) {
  if (hits(touch)) return hits(touch + kDoubtAbove) ? Verdict::hit : Verdict::hit_in_doubt;
  return hits(touch - kDoubtBelow) ? Verdict::clear_in_doubt : Verdict::clear;
}

double low(const Solid& s, Direction d) { return -reach_of(s, -d.unit()); }
double high(const Solid& s, Direction d) { return reach_of(s, d.unit()); }

/// Coordinate of a surface along the direction into it.
double skin_of(const model::Surface& s) { return -s.at * (s.normal.x + s.normal.y + s.normal.z); }

/// A board cut along the edges of its slots, less the slots. A slot reaches from half its width past the pipe's centre
/// to the open edge; round holes are left in, for what goes through them is judged by its diameter.
std::vector<Solid> without_slots(const Board& board) {
  const int u = (board.normal + 1) % 3;
  const int v = (board.normal + 2) % 3;
  std::vector<model::Bounds> slots;
  std::vector<double> cuts_u{board.lo[u], board.hi[u]};
  std::vector<double> cuts_v{board.lo[v], board.hi[v]};
  for (const Hole& hole : board.holes) {
    if (!hole.notch) continue;
    model::Bounds slot{board.lo, board.hi};
    for (const int k : {u, v}) {
      const double open = hole.open.unit()[k];
      const double half = hole.diameter / 2.0;
      if (open <= 0.0) slot.hi[k] = std::clamp(hole.centre[k] + half, board.lo[k], board.hi[k]);
      if (open >= 0.0) slot.lo[k] = std::clamp(hole.centre[k] - half, board.lo[k], board.hi[k]);
    }
    slots.push_back(slot);
    cuts_u.insert(cuts_u.end(), {slot.lo[u], slot.hi[u]});
    cuts_v.insert(cuts_v.end(), {slot.lo[v], slot.hi[v]});
  }
  std::sort(cuts_u.begin(), cuts_u.end());
  std::sort(cuts_v.begin(), cuts_v.end());
  std::vector<Solid> pieces;
  for (std::size_t i = 0; i + 1 < cuts_u.size(); ++i) {
    for (std::size_t k = 0; k + 1 < cuts_v.size(); ++k) {
      Vec3 lo = board.lo;
      Vec3 hi = board.hi;
      lo[u] = cuts_u[i];
      hi[u] = cuts_u[i + 1];
      lo[v] = cuts_v[k];
      hi[v] = cuts_v[k + 1];
      if (hi[u] - lo[u] < 1e-6 || hi[v] - lo[v] < 1e-6) continue;
      const Vec3 middle = (lo + hi) * 0.5;
      if (std::any_of(slots.begin(), slots.end(), [&](const model::Bounds& slot) {
            return middle[u] > slot.lo[u] && middle[u] < slot.hi[u] && middle[v] > slot.lo[v] && middle[v] < slot.hi[v];
          })) {
        continue;
      }
      pieces.push_back(model::box(lo, hi));
    }
  }
  return pieces;
}

/// A solid on the line of a hole while one of the two moves along it; `overlap` is the most that their extents along
/// the line come to share.
Verdict through_hole(const Hole& hole, const Solid& solid, double overlap) {
  const double spare = hole.diameter - 2.0 * solid.radius;
  if (spare >= kPlay) return Verdict::clear;
  return verdict_of_overlap(overlap);
}

}  // namespace

Verdict verdict_of_overlap(double overlap, double touch) {
  if (overlap >= touch) return overlap >= touch + kDoubtAbove ? Verdict::hit : Verdict::hit_in_doubt;
  return overlap >= touch - kDoubtBelow ? Verdict::clear_in_doubt : Verdict::clear;
}

Judge::Judge(const Frame& frame) : frame_(frame) {
  for (const Part& part : frame.parts) {
    bodies_.push_back(part.board == model::kNone ? part.solids
                                                 : without_slots(frame.board(part.board)));
  }
}

const std::vector<Solid>& Judge::bodies(PartId part) const { return bodies_[at(part)]; }

const Board* Judge::board_of(PartId part) const {
  const int board = frame_.part(part).board;
  return board == model::kNone ? nullptr : &frame_.board(board);
}

bool Judge::on_line(const Solid& solid, Vec3 point, Direction along) const {
  return solid.shape == Solid::Shape::cylinder && parallel(solid.along, along) &&
         norm(cross(solid.a - point, along.unit())) < kOneLine;
}

const Hole* Judge::hole_for(const Board& board, const Solid& solid) const {
  for (const Hole& hole : board.holes) {
    if (on_line(solid, hole.centre, board.facing)) return &hole;
  }
  return nullptr;
}

bool Judge::has_hole_on(PartId part, const TurnAxis& axis) const {
  const Board* board = board_of(part);
  return board != nullptr && parallel(board->facing, axis.along) &&
         std::any_of(board->holes.begin(), board->holes.end(),
                     [&](const Hole& h) { return norm(cross(h.centre - axis.point, axis.along.unit())) < kOneLine; });
}

Verdict Judge::turn(PartId a, PartId b, const TurnAxis& axis, Vec3 shift) {
  const double touch = frame_.part(a).union_mate == b ? 3.0 : kPlay;
  const bool a_round_axis = has_hole_on(a, axis);
  const bool b_round_axis = has_hole_on(b, axis);
  Verdict worst = Verdict::clear;
  for (const Solid& sa : bodies(a)) {
    for (const Solid& sb : bodies(b)) {
      if (worst == Verdict::hit) break;
      if (a_round_axis && on_line(sb, axis.point, axis.along)) continue;
      if (b_round_axis && on_line(sa, axis.point, axis.along)) continue;
      worst = std::max(worst,
                       judged(touch, [&](double t) { return turn_hits_sampled(sa, sb, axis, shift, kFullTurn, t); }));
    }
  }
  return worst;
}

bool Judge::drawn_out(PartId a, PartId b, Direction d) const {
  return std::any_of(frame_.joints.begin(), frame_.joints.end(), [&](const model::Joint& j) {
    const Direction out =
        frame_.part(j.female).ports[at(j.female_port)].facing;
    return (j.male == a && j.female == b && d == out) || (j.male == b && j.female == a && d == -out);
  });
}

Verdict Judge::slide(PartId a, PartId b, Direction d, double length) {
  // An end that was unscrewed still stands in its port, for parts are judged in their places; straight out is free.
  if (drawn_out(a, b, d)) return Verdict::clear;
  const Key key{a, b, d.x, d.y, d.z, length, 0, 0, 0};
  if (const auto known = slides_.find(key); known != slides_.end()) return known->second;
  const Board* board_a = board_of(a);
  const Board* board_b = board_of(b);
  Verdict worst = Verdict::clear;
  for (const Solid& sa : bodies(a)) {
    for (const Solid& sb : bodies(b)) {
      const double overlap = std::min(high(sa, d) + length, high(sb, d)) - std::max(low(sa, d), low(sb, d));
      const Hole* hole = nullptr;
      if (board_a != nullptr && parallel(board_a->facing, d)) hole = hole_for(*board_a, sb);
      if (hole != nullptr) {
        worst = std::max(worst, through_hole(*hole, sb, overlap));
        continue;
      }
      if (board_b != nullptr && parallel(board_b->facing, d)) hole = hole_for(*board_b, sa);
      if (hole != nullptr) {
        worst = std::max(worst, through_hole(*hole, sa, overlap));
        continue;
      }
      worst = std::max(worst, judged(kPlay, [&](double t) { return slide_hits(sa, sb, d.unit() * length, t); }));
    }
  }
  return slides_[key] = worst;
}

Verdict Judge::out_of_slots(PartId a, PartId b, Direction d, double length) {
  const Board& board = *board_of(a);
  Verdict worst = Verdict::clear;
  for (const Solid& sb : bodies(b)) {
    const Hole* hole = hole_for(board, sb);
    if (hole != nullptr && hole->notch) continue;
    for (const Solid& sa : bodies(a)) {
      worst = std::max(worst, judged(kPlay, [&](double t) { return slide_hits(sa, sb, d.unit() * length, t); }));
    }
  }
  return worst;
}

Verdict Judge::swing(PartId a, PartId b, const TurnAxis& axis, double angle) {
  const Board& board = *board_of(a);
  Verdict worst = Verdict::clear;
  for (const Solid& sb : bodies(b)) {
    if (hole_for(board, sb) != nullptr) continue;
    for (const Solid& sa : bodies(a)) {
      worst = std::max(worst, judged(kPlay, [&](double t) { return turn_hits_sampled(sa, sb, axis, {}, angle, t); }));
    }
  }
  return worst;
}

Verdict Judge::turn_in_room(PartId a, const TurnAxis& axis, Vec3 shift, double angle) {
  const double off = dot(shift, axis.along.unit());
  const Key key{a,
                model::kRoom,
                axis.along.x,
                axis.along.y,
                axis.along.z,
                axis.point.x + 7919.0 * angle,
                axis.point.y,
                axis.point.z,
                off};
  if (const auto known = turns_.find(key); known != turns_.end()) return known->second;
  Verdict worst = Verdict::clear;
  for (const model::Surface& surface : frame_.surfaces) {
    const Vec3 into = -surface.normal.unit();
    const double skin = skin_of(surface);
    for (const Solid& s : frame_.part(a).solids) {
      worst = std::max(worst, verdict_of_overlap(turn_reach_sampled(s, axis, shift, angle, into, skin) - skin));
    }
  }
  return turns_[key] = worst;
}

Verdict Judge::slide_in_room(PartId a, Direction d, double length) {
  Verdict worst = Verdict::clear;
  for (const model::Surface& surface : frame_.surfaces) {
    const Vec3 into = -surface.normal.unit();
    const double skin = skin_of(surface);
    for (const Solid& s : frame_.part(a).solids) {
      const double reach = reach_of(s, into) + std::max(0.0, dot(d.unit(), into) * length);
      worst = std::max(worst, verdict_of_overlap(reach - skin));
    }
  }
  return worst;
}

double Judge::travel(PartId board_part, PartId other, Direction d) {
  const auto key = std::make_tuple(board_part, other, d);
  if (const auto known = travels_.find(key); known != travels_.end()) return known->second;
  const Board& board = *board_of(board_part);
  const Solid& plank = frame_.part(board_part).solids.front();
  const double lead = high(plank, d);
  double best = kFarEnough;
  for (const Solid& s : bodies(other)) {
    if (const Hole* hole = hole_for(board, s); hole != nullptr) {
      if (hole->diameter - 2.0 * s.radius >= kPlay) continue;
      if (high(s, d) > lead + kPlay) best = std::min(best, std::max(0.0, low(s, d) - lead));
      continue;
    }
    // The greatest length that does not touch, by halving: longer ways hit whatever shorter ones hit.
    constexpr double kSkin = 0.05;
    const auto meets = [&](double length) {
      return std::any_of(bodies(board_part).begin(), bodies(board_part).end(),
                         [&](const Solid& body) { return slide_hits(body, s, d.unit() * length, kSkin); });
    };
    if (!meets(best)) continue;
    double free = 0.0;
    double blocked = best;
    while (blocked - free > 0.01) {
      const double middle = 0.5 * (free + blocked);
      (meets(middle) ? blocked : free) = middle;
    }
    best = std::max(0.0, free - kSkin);
  }
  return travels_[key] = best;
}

double Judge::travel_in_room(PartId board_part, Direction d) {
  const Solid& plank = frame_.part(board_part).solids.front();
  double best = kFarEnough;
  for (const model::Surface& surface : frame_.surfaces) {
    if (surface.normal != -d) continue;
    const double skin = skin_of(surface);
    best = std::min(best, std::max(0.0, skin - reach_of(plank, d.unit())));
  }
  return best;
}

}  // namespace dryfit::test
