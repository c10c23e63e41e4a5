#include "planner/moves/gaps_along.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/parting.hpp"

namespace dryfit::planner {

using model::Direction;
using model::Vec3;

namespace {

/// Questions that are kept; beyond, frames are so large that few are asked twice.
constexpr std::size_t kMostKept = 100000;

}  // namespace

const std::vector<GapsAlong::Gap>& GapsAlong::of(int body, Direction d, double limit) {
  const std::tuple key(body, d, limit);
  const auto known = known_.find(key);
  if (known != known_.end()) return known->second;
  std::vector<Gap> gaps = found(body, d, limit);
  if (known_.size() < kMostKept) return known_.emplace(key, std::move(gaps)).first->second;
  return found_ = std::move(gaps);
}

std::vector<GapsAlong::Gap> GapsAlong::found(int body, Direction d, double limit) {
  const Body& mine = index_.bodies()[at(body)];
  std::vector<int> near;
  index_.find(swept_bounds(mine.solid, d.unit() * limit), near);
  std::vector<Gap> gaps;
  for (const int k : near) {
    if (index_.bodies()[at(k)].part == mine.part) continue;
    const double free = gap(body, k, d, limit);
    if (free < limit) gaps.push_back({k, free});
  }
  return gaps;
}

std::optional<double> GapsAlong::gap_on_line(int board_body, int other, Direction d, double limit) const {
  const PartId board_part = index_.bodies()[at(board_body)].part;
  const int line = index_.line_of(other);
  if (line == model::kNone || !index_.on_hole_line(board_part, other, line)) return std::nullopt;
  const model::Board& board = frame_.board_of(board_part);
  if (!parallel(board.facing, d)) return std::nullopt;
  const model::Solid& solid = index_.bodies()[at(other)].solid;
  for (const HoleOnLine& h : index_.holes_on(line)) {
    if (h.board != board_part) continue;
    if (list_.goes_through(2.0 * solid.radius, board.holes[at(h.hole)].diameter)) return limit;
  }
  const Vec3 unit = d.unit();
  const double face = reach_along(model::box(board.lo, board.hi), unit);
  const double from = -reach_along(solid, -unit), to = reach_along(solid, unit);
  if (to <= face + list_.touch) return limit;  // behind, or carries it from behind
  return std::clamp(from - face, 0.0, limit);
}

double GapsAlong::gap(int body, int other, Direction d, double limit) {
  const Body& mine = index_.bodies()[at(body)];
  const Body& its = index_.bodies()[at(other)];
  if (const auto on_line = gap_on_line(body, other, d, limit)) return *on_line;
  if (const auto on_line = gap_on_line(other, body, -d, limit)) return *on_line;
  if (goes_apart(frame_, list_, mine.part, its.part, d.unit())) return limit;
  ++tests;
  const double touch = touch_between(frame_, list_, mine.part, its.part);
  const double free = free_travel(mine.thing(), its.thing(), d, limit, touch);
  // Halves of an open union give way by what they spring apart.
  return touch > list_.touch ? std::min(limit, free + touch) : free;
}

}  // namespace dryfit::planner
