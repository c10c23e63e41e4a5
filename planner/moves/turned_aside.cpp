#include "planner/moves/turned_aside.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/turning_board.hpp"

namespace dryfit::planner {

using model::Bounds;
using model::Direction;
using model::kNone;
using model::Solid;
using model::Vec3;
using Still = TurningBoard::Still;

namespace {

constexpr double kFullTurn = 2.0 * std::numbers::pi;
/// How far beyond its plane a surface is thought to be solid, mm.
constexpr double kBehindSurface = 1000.0;

/// Something that stays where it is while the board turns and slides.
struct Obstacle {
  Solid solid;
  PartId part = kNone;  ///< kNone: a surface
  int surface = kNone;
  bool stops_turning = true;  ///< false: a carrier, over which the board turns
  int slot_sense = 0;         ///< it stands in an open slot: the sense that lets it out
  double out_at = 0.0;        ///< and from which angle on
};

/// All that the board may meet on its way, wherever it is turned to.
class Surroundings {
 public:
  Surroundings(SlidingPiece& s, const Contact& hole) : s_(s), hole_(hole), board_(s.impl.board(hole.a)) {
    parts();
    if (s.cluster_has_room) surfaces();
  }
  [[nodiscard]] const std::vector<Obstacle>& all() const { return all_; }

 private:
  /// What the board may sweep, turned to any angle and moved along d.
  [[nodiscard]] Bounds region() const {
    Bounds region{board_.lo, board_.hi};
    const int n = board_.normal, i = (n + 1) % 3, j = (n + 2) % 3;
    double radius = 0.0;
    for (const double x : {board_.lo[i], board_.hi[i]}) {
      for (const double y : {board_.lo[j], board_.hi[j]}) {
        radius = std::max(radius, std::hypot(x - hole_.on_axis[i], y - hole_.on_axis[j]));
      }
    }
    for (const int k : {i, j}) {
      region.lo[k] = hole_.on_axis[k] - radius;
      region.hi[k] = hole_.on_axis[k] + radius;
    }
    (s_.d.unit()[n] > 0 ? region.hi : region.lo)[n] += s_.d.unit()[n] * s_.travel;
    return region;
  }

  void parts() {
    Undoer::Impl& impl = s_.impl;
    std::vector<int> near;
    impl.index.find(region(), near);
    for (const int i : near) {
      const Body& body = impl.index.bodies()[dryfit::at(i)];
      if (body.part == hole_.a || impl.index.is_on_line(i, hole_.line)) continue;
      if (impl.leaves_carrier(hole_.a, body.part, s_.d.unit())) continue;
      if (!s_.in_r(body.part) && !s_.in_the_way_beyond(body.part, false)) continue;
      const std::vector<Solid> solids =
          impl.is_board(body.part) ? boxes_of(impl.board(body.part)) : std::vector<Solid>{body.solid};
      for (const Solid& solid : solids) {
        Obstacle o{.solid = solid, .part = body.part};
        o.stops_turning = !impl.leaves_carrier(hole_.a, body.part, {});
        stands_in_slot(i, o);
        all_.push_back(o);
      }
    }
  }

  /// What stands in a slot of the board that was let go before is judged by its width alone until it is out.
  void stands_in_slot(int body, Obstacle& o) const {
    const int line = s_.impl.index.line_of(body);
    if (line == kNone) return;
    for (const ContactId c : s_.impl.contacts_at(hole_.a)) {
      const Contact& slot_contact = s_.impl.contact(c);
      if (slot_contact.kind != ContactKind::notch || slot_contact.line != line) continue;
      const model::Hole& slot = board_.holes[dryfit::at(slot_contact.hole)];
      if (!s_.impl.list.goes_through(2.0 * o.solid.radius, slot.diameter)) continue;
      const int sense = sense_of_slot(board_, slot, hole_.on_axis);
      const auto out = leaves_slot_at(board_, o.solid, hole_.on_axis, sense, s_.impl.list.touch);
      if (sense == 0 || !out) continue;
      o.slot_sense = sense;
      o.out_at = *out;
    }
  }

  void surfaces() {
    const Bounds around = region();
    for (std::size_t k = 0; k < s_.impl.frame.surfaces.size(); ++k) {
      const model::Surface& surface = s_.impl.frame.surfaces[k];
      const int axis = surface.normal.axis();
      const bool room_above = surface.normal.unit()[axis] > 0;
      Bounds behind{around.lo - Vec3{10, 10, 10}, around.hi + Vec3{10, 10, 10}};
      behind.lo[axis] = room_above ? surface.at - kBehindSurface : surface.at;
      behind.hi[axis] = room_above ? surface.at : surface.at + kBehindSurface;
      all_.push_back({.solid = model::box(behind.lo, behind.hi), .surface = static_cast<int>(k)});
    }
  }

  SlidingPiece& s_;
  const Contact& hole_;
  const model::Board& board_;
  std::vector<Obstacle> all_;
};

/// A contact of the board that holds it besides the one asked for, or kNone.
ContactId held_otherwise(const SlidingPiece& s, PartId board, ContactId c) {
  for (const ContactId other : s.impl.contacts_at(board)) {
    if (other != c && s.state.made(other)) return other;
  }
  return kNone;
}

/// Turns one way round as far as it goes, and looks for an angle on the way there. `met`: numbers of all that was hit.
std::optional<double> angle_in_sense(const TurningBoard& in_place, const TurningBoard& on_its_way,
                                     const std::vector<Obstacle>& all, int sense, std::vector<int>& met) {
  std::vector<Still> stills;
  double free = kFullTurn;
  int stopper = kNone;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Obstacle& o = all[i];
    stills.push_back({o.solid, static_cast<int>(i), o.slot_sense == sense ? o.out_at : 0.0});
    if (!o.stops_turning) continue;
    const double to = in_place.turns_to(stills.back(), sense, free);
    if (to >= free) continue;
    free = to;
    stopper = static_cast<int>(i);
  }
  if (stopper != kNone) met.push_back(stopper);
  return on_its_way.clear_at(stills, sense, free, met);
}

}  // namespace

int sense_of_slot(const model::Board& board, const model::Hole& slot, Vec3 centre) {
  Vec3 up{};
  up[board.normal] = 1.0;
  // Turned by +angle about `up`, the board's point at the pipe moves along up x rho, so the pipe leaves through a slot
  // that is open the other way. An arm of less than 1 mm lets nothing out.
  const double along = dot(cross(up, slot.centre - centre), slot.open.unit());
  return along < -1.0 ? 1 : along > 1.0 ? -1 : 0;
}

std::optional<double> leaves_slot_at(const model::Board& board, const Solid& standing, Vec3 centre, int sense,
                                     double touch) {
  const Solid outline = shrunk(model::box(board.lo, board.hi), touch);
  // Seen along the slot's line: how high the pipe stands is no matter, for the slot holds it wherever the two meet.
  // Its own direction is no matter either: many a pipe runs against the axis that the board is thick along.
  Vec3 foot = standing.a;
  foot[board.normal] = board.lo[board.normal];
  const Direction along = board.normal == 0 ? model::kRight : board.normal == 1 ? model::kBack : model::kUp;
  const Solid beside = model::cylinder(foot, along, board.hi[board.normal] - board.lo[board.normal], standing.radius);
  return TurningBoard::comes_clear(outline, beside, centre, board.normal, sense, std::numbers::pi / 2.0);
}

std::optional<Move> slid_turned_aside(SlidingPiece& s, ContactId c, Attempt& attempt) {
  const Contact& hole = s.impl.contact(c);
  if (hole.kind != ContactKind::hole || attempt.refusals.back().why == Refusal::Why::too_wide) return std::nullopt;
  if (const ContactId other = held_otherwise(s, hole.a, c); other != kNone) {
    if (std::binary_search(s.left_out.begin(), s.left_out.end(), other)) return std::nullopt;
    Refusal r = s.refuse(Refusal::Why::no_way, hole.a, kNone);
    r.held_by = {other};
    attempt.refusals.push_back(std::move(r));
    return std::nullopt;
  }
  const Vec3 sweep = s.d.unit() * s.travel;
  std::vector<Solid> bodies, swept;
  for (const Solid& body : boxes_of(s.impl.board(hole.a))) {
    bodies.push_back(shrunk(body, s.impl.list.touch));
    const Bounds way = model::swept_bounds(bodies.back(), sweep);
    swept.push_back(model::box(way.lo, way.hi));
  }
  const int axis = s.impl.board(hole.a).normal;
  const TurningBoard in_place(std::move(bodies), hole.on_axis, axis), on_its_way(std::move(swept), hole.on_axis, axis);
  const Surroundings around(s, hole);
  s.impl.work.clearance_tests += static_cast<long long>(around.all().size());
  std::vector<int> met;
  for (const int sense : {1, -1}) {
    if (!angle_in_sense(in_place, on_its_way, around.all(), sense, met)) continue;
    Move move;
    move.kind = MoveKind::slide;
    move.contacts = s.left_out;
    move.travel = sweep;
    s.impl.finish(s.state, move, s.k);
    return move;
  }
  std::sort(met.begin(), met.end());
  met.erase(std::unique(met.begin(), met.end()), met.end());
  Refusal r = s.refuse(Refusal::Why::no_way, hole.a, kNone);
  for (const int i : met) {
    const Obstacle& o = around.all()[dryfit::at(i)];
    if (o.part != kNone) s.hold(o.part, r.held_by);
  }
  s.hold_cluster(r.held_by);
  attempt.refusals.push_back(std::move(r));
  return std::nullopt;
}

}  // namespace dryfit::planner
