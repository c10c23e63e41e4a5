#include "planner/state/overlap.hpp"

#include <algorithm>
#include <set>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/state/body_index.hpp"
#include "planner/state/lying_board.hpp"

namespace dryfit::planner {
namespace {

bool in_contact(const model::Frame& frame, const ContactList& list, PartId a, PartId b) {
  if (frame.part(a).union_mate == b) return true;
  const auto& at = list.at[dryfit::at(a)];
  return std::any_of(at.begin(), at.end(), [&](ContactId c) {
    const Contact& k = list.contact(c);
    return k.a == b || k.b == b;
  });
}

/// A carrier that stands too high, with what is joined to it, is a closure, with its number in the fit report, not an
/// overlap.
bool carries(const model::Frame& frame, PartId carrier, PartId board_part) {
  const int board = frame.part(board_part).board;
  if (board == model::kNone) return false;
  return frame.board(board).lies_over(carrier);
}

}  // namespace

std::vector<Overlap> overlaps_of(const model::Frame& frame, const ContactList& list) {
  const BodyIndex index(frame, list);
  std::set<std::pair<PartId, PartId>> pairs;
  std::vector<Overlap> behind;
  std::vector<int> near;
  // A pipe in a hole is exempt only for the board and what the hole lets by.
  const auto passes = [&](PartId board_part, int body) {
    const int line = index.line_of(body);
    if (line == model::kNone) return false;
    for (const HoleOnLine& h : index.holes_on(line)) {
      if (h.board != board_part) continue;
      const model::Board& board = frame.board(h.board_index);
      return 2.0 * index.bodies()[dryfit::at(body)].solid.radius <= board.holes[dryfit::at(h.hole)].diameter + kOverlap;
    }
    return false;
  };
  const auto is_board = [&](PartId p) { return frame.part(p).board != model::kNone; };
  for (int i = 0; i < static_cast<int>(index.bodies().size()); ++i) {
    const Body& body = index.bodies()[dryfit::at(i)];
    index.find(bounds_of(body.solid), near);
    for (const int k : near) {
      const Body& other = index.bodies()[dryfit::at(k)];
      if (other.part <= body.part || pairs.contains({body.part, other.part})) continue;
      if (in_contact(frame, list, body.part, other.part)) continue;
      if (carries(frame, body.part, other.part) || carries(frame, other.part, body.part)) continue;
      if (is_board(body.part) && passes(body.part, k)) continue;
      if (is_board(other.part) && passes(other.part, i)) continue;
      if (model::hits(body.thing(), other.thing(), {}, kOverlap)) pairs.emplace(body.part, other.part);
    }
  }
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
    for (std::size_t s = 0; s < frame.surfaces.size(); ++s) {
      const model::Vec3 n = frame.surfaces[s].normal.unit();
      const double plane = frame.surfaces[s].at * n[frame.surfaces[s].normal.axis()];
      for (int i = index.first(p); i < index.last(p); ++i) {
        if (reach_along(index.bodies()[dryfit::at(i)].solid, -n) + plane <= kOverlap) continue;
        behind.push_back({p, model::kNone, static_cast<int>(s)});
        break;
      }
    }
  }
  std::vector<Overlap> result;
  for (const auto& [a, b] : pairs) result.push_back({a, b, model::kNone});
  result.insert(result.end(), behind.begin(), behind.end());
  return result;
}

namespace {

/// How far the first part is to be moved against `d` until both touch and no more; 0 where they are apart anyway.
double depth_along(const model::Part& a, const model::Part& b, model::Direction d) {
  double depth = 0.0;
  for (const model::Solid& of_a : a.solids) {
    for (const model::Solid& of_b : b.solids) {
      const model::Bounds one = bounds_of(of_a), other = bounds_of(of_b);
      bool apart = false;
      for (int k = 0; k < 3; ++k) apart = apart || one.hi[k] <= other.lo[k] || other.hi[k] <= one.lo[k];
      if (!apart) depth = std::max(depth, reach_along(of_a, d.unit()) + reach_along(of_b, -d.unit()));
    }
  }
  return depth;
}

/// The shortest way, of those square to `axis` alone where one is given.
OverlapExtent shortest(const model::Part& a, const model::Part& b, int square_to) {
  OverlapExtent best;
  for (const model::Direction d : model::all_directions()) {
    if (!d.along_axis() || d.axis() == square_to) continue;
    const double depth = depth_along(a, b, d);
    if (depth > 0.0 && (best.depth == 0.0 || depth < best.depth - 1e-6)) best = {depth, d};
  }
  return best;
}

OverlapExtent behind_surface(const model::Part& a, const model::Surface& surface) {
  const model::Direction behind = -surface.normal;
  const double plane = dot(behind.unit(), {1, 1, 1}) * surface.at;
  OverlapExtent extent{0.0, behind};
  for (const model::Solid& solid : a.solids) {
    extent.depth = std::max(extent.depth, reach_along(solid, behind.unit()) - plane);
  }
  return extent;
}

}  // namespace

OverlapExtent extent_of(const model::Frame& frame, const Overlap& overlap) {
  const model::Part& a = frame.part(overlap.a);
  if (overlap.surface != model::kNone) return behind_surface(a, frame.surface(overlap.surface));
  const model::Part& b = frame.part(overlap.b);
  OverlapExtent best = shortest(a, b, model::kNone);
  const model::Board* board = lying_board(frame, overlap.b);
  if (board == nullptr) board = lying_board(frame, overlap.a);
  if (board == nullptr) return best;
  if (would_lie(frame, overlap.a, overlap.b) != model::kNone) return best;
  const OverlapExtent beside = shortest(a, b, board->normal);
  const model::Vec3 size = board->hi - board->lo;
  if (beside.depth > 0.0 && beside.depth <= size[beside.too_far.axis()] / 2.0) best = beside;
  return best;
}

}  // namespace dryfit::planner
