#include "tests/support/oracle/oracle_judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <set>

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

/// A board in strips across its u axis, cut so finely that the straight sides stay within a tenth of a millimetre of
/// the round ones, made smaller by `by` all round. Written for this judge alone; the planner cuts its boards otherwise.
std::vector<Solid> with_openings(Board board, double by) {
  for (const int k : {0, 1, 2}) {
    board.lo[k] += by;
    board.hi[k] -= by;
  }
  for (Hole& hole : board.holes) hole.diameter += 2.0 * by;

  const int u = (board.normal + 1) % 3, v = (board.normal + 2) % 3;
  std::vector<double> at{board.lo[u], board.hi[u]};
  for (const Hole& hole : board.holes) {
    const double r = hole.diameter / 2.0;
    const int n = std::max(8, static_cast<int>(std::ceil(std::numbers::pi / std::acos(1.0 - 0.1 / r))));
    for (int i = 0; i <= n; ++i) at.push_back(hole.centre[u] + r * std::sin(std::numbers::pi * (i - n / 2.0) / n));
  }
  std::erase_if(at, [&](double x) { return x < board.lo[u] || x > board.hi[u]; });
  std::sort(at.begin(), at.end());
  /// Open from and to on the line u = x; nothing where the opening does not reach the whole strip about `middle`.
  const auto open_at = [&](const Hole& hole, double x, double middle) -> std::optional<std::pair<double, double>> {
    const double r = hole.diameter / 2.0, side = hole.notch ? hole.open.unit()[u] : 0.0;
    const double off = side * (middle - hole.centre[u]) > 0.0 ? 0.0 : x - hole.centre[u];
    if (off == 0.0 ? false : std::abs(middle - hole.centre[u]) > r) return std::nullopt;
    const double half = std::sqrt(std::max(0.0, r * r - off * off));
    const double way = hole.notch ? hole.open.unit()[v] : 0.0;
    return std::pair(way < 0 ? -1e6 : hole.centre[v] - half, way > 0 ? 1e6 : hole.centre[v] + half);
  };
  std::vector<Solid> pieces;
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    const double x0 = at[i], x1 = at[i + 1], middle = 0.5 * (x0 + x1);
    if (x1 - x0 < 1e-6) continue;
    std::vector<std::array<double, 4>> open;
    for (const Hole& hole : board.holes) {
      const auto left = open_at(hole, x0, middle), right = open_at(hole, x1, middle);
      if (left && right) open.push_back({left->first, left->second, right->first, right->second});
    }
    std::sort(open.begin(), open.end());
    open.push_back({board.hi[v], 0.0, board.hi[v], 0.0});
    double left = board.lo[v], right = board.lo[v];
    for (const auto& o : open) {
      const double to_left = std::clamp(o[0], left, board.hi[v]), to_right = std::clamp(o[2], right, board.hi[v]);
      if (to_left > left || to_right > right) {
        Vec3 a = board.lo, b = board.hi;
        a[u] = x0;
        b[u] = x1;
        a[v] = std::min(left, right);
        b[v] = std::max(to_left, to_right);
        pieces.push_back(model::wedge(a, b, board.normal, u, {left, to_left, right, to_right}));
      }
      left = std::clamp(o[1], left, board.hi[v]);
      right = std::clamp(o[3], right, board.hi[v]);
    }
  }
  return pieces;
}

/// A solid on the line of a hole while one of the two moves along it; `overlap` is the most that their extents along
/// the line come to share.
Verdict through_hole(const Hole& hole, const Solid& solid, double overlap) {
  if (enough_play(hole.diameter, 2.0 * solid.radius)) return Verdict::clear;
  return verdict_of_overlap(overlap);
}

}  // namespace

Verdict verdict_of_overlap(double overlap, double touch) {
  if (overlap >= touch) return overlap >= touch + kDoubtAbove ? Verdict::hit : Verdict::hit_in_doubt;
  return overlap >= touch - kDoubtBelow ? Verdict::clear_in_doubt : Verdict::clear;
}

Verdict in_steps(double touch, const std::function<bool(double)>& hits_by) { return judged(touch, hits_by); }

Judge::Judge(const Frame& frame) : frame_(frame) {
  for (const Part& part : frame.parts) {
    if (part.board == model::kNone) {
      bodies_.push_back(part.solids);
      smaller_.push_back(part.solids);
    } else {
      const Board& board = frame.board(part.board);
      bodies_.push_back(with_openings(board, 0.0));
      smaller_.push_back(with_openings(board, kPlay));
    }
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
  return worst_of(a, b, [&](const Solid& sa, const Solid& sb) {
    if (a_round_axis && on_line(sb, axis.point, axis.along)) return Verdict::clear;
    if (b_round_axis && on_line(sa, axis.point, axis.along)) return Verdict::clear;
    return judged(touch, [&](double t) { return turn_hits_sampled(sa, sb, axis, shift, kFullTurn, t); });
  });
}

bool Judge::drawn_out(PartId a, PartId b, Direction d) const {
  return std::any_of(frame_.joints.begin(), frame_.joints.end(), [&](const model::Joint& j) {
    const Direction out = frame_.part(j.female).ports[at(j.female_port)].facing;
    return (j.male == a && j.female == b && d == out) || (j.male == b && j.female == a && d == -out);
  });
}

bool Judge::sunk_in(PartId part, PartId board_part) const {
  const auto known = sunk_.find({part, board_part});
  if (known != sunk_.end()) return known->second;
  return sunk_[{part, board_part}] = sunk_as_drawn(part, board_part);
}

bool Judge::sunk_as_drawn(PartId part, PartId board_part) const {
  const Board& board = *board_of(board_part);
  const Direction up = board.facing;
  const double under = low(frame_.part(board_part).solids.front(), up);
  double lift = 0.0;
  std::set<PartId> post;  // carriers that stand too high, what is under them, and what is screwed to that in the wood
  std::vector<PartId> bearing = board.carriers;
  for (const model::Fastening& made : frame_.fastenings) {
    const bool flange = made.kind == model::Fastening::Kind::flange_to_board && made.other == board_part;
    if (flange && frame_.part(made.part).ports.front().facing == -up) bearing.push_back(made.part);
  }
  for (const PartId carrier : bearing) {
    double top = under;
    for (const Solid& solid : frame_.part(carrier).solids) top = std::max(top, high(solid, up));
    lift = std::max(lift, top - under);
    if (top > under + kPlay) post.insert(carrier);
  }
  if (post.empty()) return false;
  const auto stands_in = [&](PartId p, Vec3 lifted) {
    return std::any_of(bodies(board_part).begin(), bodies(board_part).end(), [&](const Solid& wood) {
      return std::any_of(frame_.part(p).solids.begin(), frame_.part(p).solids.end(),
                         [&](const Solid& body) { return slide_hits(body, model::moved(wood, lifted), {}, kPlay); });
    });
  };
  for (bool grows = true; grows;) {
    grows = false;
    for (const model::Joint& joint : frame_.joints) {
      if (post.count(joint.male) == post.count(joint.female)) continue;
      const PartId next = post.count(joint.male) != 0 ? joint.female : joint.male;
      const bool upright = parallel(frame_.part(joint.female).ports[at(joint.female_port)].facing, up);
      const bool sunk = stands_in(next, {}) && !stands_in(next, up.unit() * lift);
      if (!sunk && !upright) continue;
      post.insert(next);
      grows = true;
    }
  }
  return post.count(part) != 0 && stands_in(part, {}) && !stands_in(part, up.unit() * lift);
}

bool Judge::lies_on(PartId a, PartId b, Direction d) const {
  const auto rests = [&](PartId board_part, PartId carrier, Direction way) {
    const Board* board = board_of(board_part);
    if (board == nullptr || way == -board->facing) return false;
    return std::find(board->carriers.begin(), board->carriers.end(), carrier) != board->carriers.end() ||
           sunk_in(carrier, board_part);
  };
  return rests(a, b, d) || rests(b, a, -d);
}

Verdict Judge::slide(PartId a, PartId b, Direction d, double length) {
  // A board is lifted off its carrier or slides over it, however high the drawing puts that.
  if (lies_on(a, b, d)) return Verdict::clear;
  // An end that was unscrewed still stands in its port, for parts are judged in their places; straight out is free.
  if (drawn_out(a, b, d)) return Verdict::clear;
  const Key key{a, b, d.x, d.y, d.z, length, 0, 0, 0};
  if (const auto known = slides_.find(key); known != slides_.end()) return known->second;
  const Board* board_a = board_of(a);
  const Board* board_b = board_of(b);
  const Verdict worst = worst_of(a, b, [&](const Solid& sa, const Solid& sb) {
    const double overlap = std::min(high(sa, d) + length, high(sb, d)) - std::max(low(sa, d), low(sb, d));
    const Hole* hole = nullptr;
    if (board_a != nullptr && parallel(board_a->facing, d)) hole = hole_for(*board_a, sb);
    if (hole != nullptr) return through_hole(*hole, sb, overlap);
    if (board_b != nullptr && parallel(board_b->facing, d)) hole = hole_for(*board_b, sa);
    if (hole != nullptr) return through_hole(*hole, sa, overlap);
    return judged(kPlay, [&](double t) { return slide_hits(sa, sb, d.unit() * length, t); });
  });
  return slides_[key] = worst;
}

Verdict Judge::out_of_slots(PartId a, PartId b, Direction d, double length) {
  if (drawn_out(a, b, d) || lies_on(a, b, d)) return Verdict::clear;
  const auto in_slot = [&](PartId board_part, const Solid& solid) {
    const Board* board = board_of(board_part);
    const Hole* hole = board == nullptr ? nullptr : hole_for(*board, solid);
    return hole != nullptr && hole->notch && enough_play(hole->diameter, 2.0 * solid.radius);
  };
  Verdict worst = Verdict::clear;
  for (const Solid& sb : bodies(b)) {
    if (in_slot(a, sb)) continue;
    for (const Solid& sa : bodies(a)) {
      if (in_slot(b, sa)) continue;
      worst = std::max(worst, judged(kPlay, [&](double t) { return slide_hits(sa, sb, d.unit() * length, t); }));
    }
  }
  return worst;
}

int Judge::sense_out_of(const Hole& slot, const TurnAxis& axis) {
  // The board moves against its slot's opening, so that the pipe comes out of it.
  const double along = -dot(cross(axis.along.unit(), slot.centre - axis.point), slot.open.unit());
  return std::abs(along) < 1.0 ? 0 : along > 0 ? 1 : -1;
}

std::optional<double> Judge::angle_out_of(const Board& board, const Hole& slot, const TurnAxis& axis, int sense) const {
  const Solid outline = shrunk(model::box(board.lo, board.hi), kPlay);
  const double radius = bodies(slot.pipe).front().radius;
  constexpr double kStep = std::numbers::pi / 3600.0;
  for (double angle = 0.0; angle <= std::numbers::pi / 2.0; angle += kStep) {
    const Vec3 at = turned(slot.centre, axis, -sense * angle);
    double beyond = 0.0;
    for (int k = 0; k < 3; ++k) {
      if (k == board.normal) continue;
      beyond = std::hypot(beyond, std::max({outline.a[k] - at[k], at[k] - outline.b[k], 0.0}));
    }
    if (beyond > radius) return angle;
  }
  return std::nullopt;
}

Verdict Judge::on_its_line(PartId a, PartId b, const Hole& hole, Direction d, double length) const {
  Verdict worst = Verdict::clear;
  if (lies_on(a, b, d)) return worst;
  for (const Solid& sb : bodies(b)) {
    if (!on_line(sb, hole.centre, board_of(a)->facing)) continue;
    for (const Solid& sa : bodies(a)) {
      const double overlap = std::min(high(sa, d) + length, high(sb, d)) - std::max(low(sa, d), low(sb, d));
      worst = std::max(worst, through_hole(hole, sb, overlap));
    }
  }
  return worst;
}

namespace {

constexpr int kAngles = 720;
double nth_angle(int i) { return kFullTurn * i / kAngles; }

}  // namespace

const Judge::Aside& Judge::aside(PartId a, PartId b, const TurnAxis& axis, int sense, Direction d, double length) {
  const auto key = std::make_tuple(a, b, sense, d, length);
  if (const auto known = asides_.find(key); known != asides_.end()) return known->second;
  Aside& out = asides_[key];
  out.in_place.assign(kAngles + 1, Verdict::clear);
  out.sliding = out.in_place;
  const Board& board = *board_of(a);
  const bool carrier = lies_on(a, b, board.facing);
  // Round holes stay in: nothing but what is on the axis is in one of them.
  Board slotted = board;
  std::erase_if(slotted.holes, [](const Hole& hole) { return !hole.notch; });
  std::map<double, std::vector<Solid>> made_smaller;
  const auto pieces = [&](double by) -> const std::vector<Solid>& {
    const auto [known, fresh] = made_smaller.try_emplace(by);
    if (fresh) known->second = with_openings(slotted, by);
    return known->second;
  };
  // All that the board gets to at any angle.
  Vec3 lo = board.lo, hi = board.hi;
  const double far = norm(board.hi - board.lo);
  for (int k = 0; k < 3; ++k) {
    if (k != board.normal) lo[k] = axis.point[k] - far, hi[k] = axis.point[k] + far;
    lo[k] += std::min(0.0, d.unit()[k] * length);
    hi[k] += std::max(0.0, d.unit()[k] * length);
  }
  const Solid whole = model::box(lo, hi);
  for (const Solid& sb : bodies(b)) {
    if (on_line(sb, axis.point, axis.along) || lies_on(a, b, d) || apart(whole, sb) > 0.0) continue;
    const Hole* slot = hole_for(board, sb);
    double out_at = 0.0;
    if (slot != nullptr && slot->notch && sense_out_of(*slot, axis) == sense) {
      out_at = angle_out_of(board, *slot, axis, sense).value_or(0.0);
    }
    for (int i = 0; i <= kAngles; ++i) {
      const auto at = [&](Vec3 travel) {
        return judged(kPlay, [&](double by) {
          return std::any_of(pieces(by).begin(), pieces(by).end(), [&](const Solid& sa) {
            return turned_slide_hits(sa, sb, axis, sense * nth_angle(i), travel, 0.0);
          });
        });
      };
      const auto k = static_cast<std::size_t>(i);
      if (!carrier && nth_angle(i) >= out_at) out.in_place[k] = std::max(out.in_place[k], at({}));
      out.sliding[k] = std::max(out.sliding[k], at(d.unit() * length));
    }
  }
  return out;
}

Judge::Aside Judge::aside_in_room(PartId a, const TurnAxis& axis, int sense, Direction d, double length) const {
  Aside out;
  const Solid& plank = frame_.parts[dryfit::at(a)].solids.front();
  for (int i = 0; i <= kAngles; ++i) {
    Verdict in_place = Verdict::clear, sliding = Verdict::clear;
    for (const model::Surface& surface : frame_.surfaces) {
      const Vec3 into = -surface.normal.unit();
      double reach = -1e300;
      for (int corner = 0; corner < 8; ++corner) {
        const Vec3 p{(corner & 1) != 0 ? plank.b.x : plank.a.x, (corner & 2) != 0 ? plank.b.y : plank.a.y,
                     (corner & 4) != 0 ? plank.b.z : plank.a.z};
        reach = std::max(reach, dot(turned(p, axis, sense * nth_angle(i)), into));
      }
      in_place = std::max(in_place, verdict_of_overlap(reach - skin_of(surface)));
      sliding =
          std::max(sliding, verdict_of_overlap(reach + std::max(0.0, dot(d.unit(), into) * length) - skin_of(surface)));
    }
    out.in_place.push_back(in_place);
    out.sliding.push_back(sliding);
  }
  return out;
}

Verdict Judge::swing(PartId a, PartId b, const TurnAxis& axis, double angle) {
  const Board& board = *board_of(a);
  Verdict worst = Verdict::clear;
  if (lies_on(a, b, board.facing)) return worst;
  for (const Solid& sb : bodies(b)) {
    if (hole_for(board, sb) != nullptr) continue;
    for (const Solid& sa : bodies(a)) {
      worst = std::max(worst, judged(kPlay, [&](double t) { return turn_hits_sampled(sa, sb, axis, {}, angle, t); }));
    }
  }
  return worst;
}

Verdict Judge::bit_in_room(const Solid& bit, Vec3 way) const {
  Verdict worst = Verdict::clear;
  for (const model::Surface& surface : frame_.surfaces) {
    const Vec3 into = -surface.normal.unit();
    worst = std::max(worst, verdict_of_overlap(reach_of(bit, into) + std::max(0.0, dot(way, into)) - skin_of(surface)));
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

double Judge::free_way(PartId a, PartId b, Direction d) {
  const auto key = std::make_tuple(a, b, d);
  if (const auto known = ways_.find(key); known != ways_.end()) return known->second;
  double best = kFarEnough;
  if (drawn_out(a, b, d) || lies_on(a, b, d)) return ways_[key] = best;
  for (const Solid& sa : frame_.part(a).solids) {
    for (const Solid& sb : frame_.part(b).solids) {
      best = std::min(best, free_way(a, sa, b, sb, d));
    }
  }
  return ways_[key] = best;
}

Verdict Judge::slide_on_axis(PartId a, PartId b, const TurnAxis& axis, Direction d, double length) const {
  Verdict worst = Verdict::clear;
  if (drawn_out(a, b, d)) return worst;
  for (const Solid& sa : frame_.part(a).solids) {
    for (const Solid& sb : frame_.part(b).solids) {
      if (!on_line(sa, axis.point, axis.along) || !on_line(sb, axis.point, axis.along)) continue;
      const double overlap = std::min(high(sa, d) + length, high(sb, d)) - std::max(low(sa, d), low(sb, d));
      worst = std::max(worst, verdict_of_overlap(overlap, frame_.part(a).union_mate == b ? 3.0 : kPlay));
    }
  }
  return worst;
}

double Judge::free_way_on_axis(PartId a, PartId b, const TurnAxis& axis, Direction d) {
  double best = kFarEnough;
  if (drawn_out(a, b, d) || lies_on(a, b, d)) return best;
  for (const Solid& sa : frame_.part(a).solids) {
    for (const Solid& sb : frame_.part(b).solids) {
      const bool round = on_line(sa, axis.point, axis.along) || on_line(sb, axis.point, axis.along);
      if (round) best = std::min(best, free_way(a, sa, b, sb, d));
    }
  }
  return best;
}

double Judge::free_way(PartId a, const Solid& sa, PartId b, const Solid& sb, Direction d) {
  // On the line of a hole the widths decide, and what the board has behind its leading face is left behind.
  for (const auto& [part, plank, other, way] : {std::tuple(a, sa, sb, d), std::tuple(b, sb, sa, -d)}) {
    const Board* board = board_of(part);
    const Hole* hole = board != nullptr && parallel(board->facing, d) ? hole_for(*board, other) : nullptr;
    if (hole == nullptr) continue;
    if (enough_play(hole->diameter, 2.0 * other.radius) || high(other, way) <= high(plank, way) + kPlay)
      return kFarEnough;
    return std::clamp(low(other, way) - high(plank, way), 0.0, kFarEnough);
  }
  // The greatest length that does not touch, by halving: longer ways hit whatever shorter ones hit.
  constexpr double kSkin = 0.05;
  const auto meets = [&](double length) {
    if (!slide_hits(sa, sb, d.unit() * length, kSkin)) return false;
    return worst_of(a, b, [&](const Solid& p, const Solid& q) {
             return slide_hits(p, q, d.unit() * length, kSkin) ? Verdict::hit : Verdict::clear;
           }) == Verdict::hit;
  };
  if (!meets(kFarEnough)) return kFarEnough;
  double free = 0.0, blocked = kFarEnough;
  while (blocked - free > 0.01) {
    const double middle = 0.5 * (free + blocked);
    (meets(middle) ? blocked : free) = middle;
  }
  // With its nut off a union's halves spring apart.
  return std::max(0.0, free - kSkin) + (frame_.part(a).union_mate == b ? 3.0 : 0.0);
}

double Judge::free_way_in_room(PartId a, Direction d) {
  double best = kFarEnough;
  for (const model::Surface& surface : frame_.surfaces) {
    if (surface.normal != -d) continue;
    for (const Solid& s : frame_.part(a).solids) {
      best = std::min(best, std::max(0.0, skin_of(surface) - reach_of(s, d.unit())));
    }
  }
  return best;
}

}  // namespace dryfit::test
