/// Whether a driver gets at the screws of a flange, by the plain text of the rule: four screws on a circle, twelve ways
/// to turn the flange, a bit as long as the clear way pushed along each screw.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/oracle/oracle_rules.hpp"

namespace dryfit::test {
namespace {

constexpr int kTurned = 12;
constexpr double kBit = 3.5;  // mm, its radius

Verdict worse(Verdict a, Verdict b) { return std::max(a, b); }

}  // namespace

Verdict Judge::bit_against(PartId other, const TurnAxis& run, const Solid& bit, Vec3 way) {
  const auto& solids = bodies(other);
  const bool own =
      std::any_of(solids.begin(), solids.end(), [&](const Solid& s) { return on_line(s, run.point, run.along); });
  Verdict worst = Verdict::clear;
  for (const Solid& solid : solids) {
    if (own && !on_line(solid, run.point, run.along)) continue;  // the driver leans past the arms of a fitting
    worst = worse(worst, in_steps(kPlay, [&](double t) { return slide_hits(bit, solid, way, t); }));
  }
  return worst;
}

/// One flange in one state.
struct Rules::Screws {
  const State& made;
  std::size_t flange = 0;
  TurnAxis run;  ///< the flange's own pipe, away from the plate
  Vec3 heads;    ///< middle of the circle that the screw heads lie on
};

/// Nothing but holes along the screws ties the board, and nothing lies on it.
bool Rules::only_in_holes(const Screws& screws, std::size_t part) const {
  if (part == room() || judge_.board_of(static_cast<PartId>(part)) == nullptr) return false;
  return std::all_of(at_[part].begin(), at_[part].end(), [&](std::size_t k) {
    if (!screws.made[k]) return true;
    return is_hole(k) && links_[k].a == part &&
           parallel(judge_.board_of(static_cast<PartId>(part))->facing, screws.run.along);
  });
}

/// Clear when the part can be pushed along the screws until the driver has room.
Verdict Rules::pushed_aside(const Screws& screws, std::size_t part) {
  const Board* board = judge_.board_of(static_cast<PartId>(part));
  if (board == nullptr || board->holes.empty() || !only_in_holes(screws, part)) return Verdict::hit;
  const Direction d = screws.run.along;
  const Solid plank = model::box(board->lo, board->hi);
  return pushed_by(screws, part, dot(screws.heads, d.unit()) + frame_.driver + reach_of(plank, -d.unit()));
}

Verdict Rules::pushed_by(const Screws& screws, std::size_t part, double length) {
  const Board* board = judge_.board_of(static_cast<PartId>(part));
  const Direction d = screws.run.along;
  Verdict worst = with_room(part) ? judge_.slide_in_room(static_cast<PartId>(part), d, length) : Verdict::clear;
  for (std::size_t other = 0; other < room(); ++other) {
    if (other == part || cluster_[other] != cluster_[part]) continue;
    const auto id = static_cast<PartId>(other);
    const auto carried = [](const Board* b, PartId by) {
      return b != nullptr && std::find(b->carriers.begin(), b->carriers.end(), by) != b->carriers.end();
    };
    if (carried(board, id) && board->facing == d) continue;
    const Board* upper = judge_.board_of(id);
    if (carried(upper, static_cast<PartId>(part)) && upper->facing == -d) continue;
    Verdict met = judge_.slide(static_cast<PartId>(part), id, d, length);
    if (met != Verdict::clear && only_in_holes(screws, other)) {
      // It goes along from where it is met.
      const double gap = -reach_of(model::box(upper->lo, upper->hi), -d.unit()) -
                         reach_of(model::box(board->lo, board->hi), d.unit());
      const double rest = length - std::max(0.0, gap);
      const bool goes_on = gap > -kPlay && rest > kPlay;
      met = goes_on ? std::min(met, pushed_by(screws, other, rest)) : Verdict::clear;
    }
    worst = worse(worst, met);
  }
  return worst;
}

Verdict Rules::driver_blocked(const State& made, std::size_t link) {
  const model::Fastening& f = *links_[link].fastening;
  using model::Fastening;
  if (f.kind != Fastening::Kind::flange_to_surface && f.kind != Fastening::Kind::flange_to_board) return Verdict::clear;
  const Part& flange = frame_.parts[links_[link].a];
  const Direction out = flange.ports.front().facing;
  const Solid& hub = flange.solids.front();
  const Solid& plate = flange.solids.back();
  const Screws screws{made, links_[link].a, {flange.centre, out}, flange.centre + out.unit() * norm(plate.b - plate.a)};
  const double circle = flange.screw_circle / 2.0, radius = std::min(kBit, (circle - hub.radius) / 2.0);
  Vec3 zero{0, 0, 1};
  if (out.z != 0) zero = out.y == 0 ? Vec3{0, 1, 0} : Vec3{1, 0, 0};
  const TurnAxis about{screws.heads, out};
  constexpr double kTip = 4.0;  // mm of the bit that is carried along
  const Vec3 way = out.unit() * (frame_.driver - kTip);

  // Part `other`, or the room, over any of the four screws in position k; the same in every state.
  const auto over = [&](int k, std::size_t other) {
    const auto [known, fresh] = over_.emplace(std::tuple(link, k, other), Verdict::clear);
    for (int screw = 0; fresh && screw < 4; ++screw) {
      const double angle = std::numbers::pi / 2.0 * (screw + k / static_cast<double>(kTurned));
      const Solid tip = model::cylinder(turned(screws.heads + zero * circle, about, angle), out, kTip, radius);
      known->second =
          worse(known->second, other == room() ? judge_.bit_in_room(tip, way)
                                               : judge_.bit_against(static_cast<PartId>(other), screws.run, tip, way));
    }
    return known->second;
  };
  Verdict best = Verdict::hit;
  std::map<std::size_t, Verdict> aside;
  for (int k = 0; k < kTurned && best != Verdict::clear; ++k) {
    Verdict worst = with_room(screws.flange) ? over(k, room()) : Verdict::clear;
    for (std::size_t other = 0; other < room() && worst != Verdict::hit; ++other) {
      if (other == screws.flange || other == links_[link].b || cluster_[other] != cluster_[screws.flange]) continue;
      const Verdict here = over(k, other);
      if (here == Verdict::clear) continue;
      if (!aside.contains(other)) aside[other] = pushed_aside(screws, other);
      worst = worse(worst, std::min(here, aside[other]));
    }
    best = std::min(best, worst);
  }
  return best;
}

}  // namespace dryfit::test
