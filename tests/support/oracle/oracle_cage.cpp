#include "tests/support/oracle/oracle_cage.hpp"

#include <algorithm>
#include <cmath>

namespace dryfit::test {
namespace {

double low(const Solid& s, Direction d) { return -reach_of(s, -d.unit()); }
double high(const Solid& s, Direction d) { return reach_of(s, d.unit()); }

struct Slats {
  Solid plank;
  Direction up, east, north;
  double shorter = 0.0;
  std::vector<Solid> bearing, around;

  /// How far two reach side by side along a line of the board, mm; from `from` to `to` behind the end towards d.
  [[nodiscard]] double shared(const Solid& other, Direction d, double from, double to) const {
    return std::min(high(other, d), high(plank, d) - from) - std::max(low(other, d), high(plank, d) - to);
  }
  [[nodiscard]] double length(Direction d) const { return high(plank, d) - low(plank, d); }
  [[nodiscard]] double middle() const { return 0.5 * (high(plank, up) + low(plank, up)); }
  [[nodiscard]] Direction across(Direction d) const { return parallel(d, east) ? north : east; }
  /// Over or under the share of the board that lies at its end towards d.
  [[nodiscard]] bool at_rim(const Solid& other, Direction d, double share, double hair) const {
    return shared(other, d, 0.0, share * length(d)) > kPlay - hair &&
           shared(other, across(d), 0.0, length(across(d))) > kPlay - hair;
  }
  [[nodiscard]] bool closed(double hair) const {
    const Direction rims[] = {east, -east, north, -north};
    double lid = -1e300;
    for (const Direction d : rims) {
      const bool borne = std::any_of(bearing.begin(), bearing.end(), [&](const Solid& s) {
        return high(s, up) > low(plank, up) - kPlay - hair && at_rim(s, d, 0.25, hair);
      });
      double lowest = 1e300;
      for (const Solid& s : around) {
        if (low(s, up) >= middle() - hair && at_rim(s, d, 0.125, hair)) lowest = std::min(lowest, low(s, up));
      }
      if (!borne || lowest > high(plank, up) + 0.25 * shorter + hair) return false;
      lid = std::max(lid, lowest);
    }
    for (const Direction d : rims) {
      for (const Direction end : {across(d), -across(d)}) {
        const bool barred = std::any_of(around.begin(), around.end(), [&](const Solid& s) {
          const double gap = low(s, d) - high(plank, d);
          return gap >= -kPlay - hair && gap <= shorter / 16.0 + hair &&
                 low(s, up) <= high(plank, up) - 0.25 * length(up) + hair &&
                 high(s, up) >= lid - 0.5 * length(up) - hair &&
                 shared(s, end, 0.1 * shorter, 0.35 * shorter) > kPlay - hair;
        });
        if (!barred) return false;
      }
    }
    return true;
  }
};

}  // namespace

Verdict shut_in(const Frame& frame, PartId board, const std::vector<PartId>& carriers,
                const std::vector<PartId>& others, bool surfaces) {
  const Board& wood = frame.board_of(board);
  Slats cage;
  cage.plank = frame.part(board).solids.front();
  cage.up = wood.facing;
  cage.east = parallel(cage.up, model::kRight) ? model::kUp : model::kRight;
  cage.north = parallel(cage.up, model::kBack) || parallel(cage.east, model::kBack) ? model::kUp : model::kBack;
  cage.shorter = std::min(cage.length(cage.east), cage.length(cage.north));
  for (const PartId part : carriers) {
    const auto& solids = frame.part(part).solids;
    cage.bearing.insert(cage.bearing.end(), solids.begin(), solids.end());
  }
  for (const PartId part : others) {
    if (part == board || wood.lies_over(part)) continue;
    for (const Solid& s : frame.part(part).solids) {
      if (s.shape == Solid::Shape::box || s.along.along_axis()) cage.around.push_back(s);
    }
  }
  for (std::size_t s = 0; surfaces && s < frame.surfaces.size(); ++s) {
    constexpr double kWide = 1e6;
    const Direction n = frame.surfaces[s].normal;
    Vec3 lo{-kWide, -kWide, -kWide}, hi{kWide, kWide, kWide};
    (n.x + n.y + n.z > 0 ? hi : lo)[n.axis()] = frame.surfaces[s].at;
    cage.around.push_back(model::box(lo, hi));
  }
  constexpr double kHair = 1.0;
  if (cage.closed(0.0)) return cage.closed(-kHair) ? Verdict::hit : Verdict::hit_in_doubt;
  return cage.closed(kHair) ? Verdict::clear_in_doubt : Verdict::clear;
}

}  // namespace dryfit::test
