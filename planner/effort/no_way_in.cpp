#include "planner/effort/no_way_in.hpp"

#include <algorithm>
#include <limits>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"
#include "planner/effort/tilt.hpp"

namespace dryfit::planner {
namespace {

bool upright(const model::Frame& frame, const model::Joint& joint) {
  return parallel(frame.part(joint.male).ports[at(joint.male_port)].facing, model::kUp);
}

/// Parts of one set, ascending.
std::vector<PartId> set_of(DisjointSets& sets, std::size_t parts, PartId one) {
  std::vector<PartId> out;
  for (PartId p = 0; p < static_cast<PartId>(parts); ++p) {
    if (sets.together(p, one)) out.push_back(p);
  }
  return out;
}

/// All sets, each ascending, by their first parts. O(parts).
std::vector<std::vector<PartId>> sets_of(const DisjointSets& sets, std::size_t parts) {
  std::vector<std::vector<PartId>> out;
  std::vector<int> number(parts, model::kNone);
  for (PartId p = 0; p < static_cast<PartId>(parts); ++p) {
    int& of_set = number[at(sets.find(p))];
    if (of_set == model::kNone) {
      of_set = static_cast<int>(out.size());
      out.emplace_back();
    }
    out[at(of_set)].push_back(p);
  }
  return out;
}

/// False: no thread is so long that the column could lack headroom.
bool as_tall_as(const Effort& effort, const std::vector<PartId>& column, double room) {
  constexpr double kLongestThread = 100.0;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const PartId p : column) {
    low = std::min(low, effort.bounds(p).lo.z);
    high = std::max(high, effort.bounds(p).hi.z);
  }
  return high - low + kLongestThread > room;
}

/// The headroom that the last joint of the column lacks when it is made standing: of the joint that lacks least.
double lacks_standing(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& column) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t last = 0; last < frame.joints.size(); ++last) {
    const model::Joint& joint = frame.joints[last];
    if (!upright(frame, joint) || !std::binary_search(column.begin(), column.end(), joint.male)) continue;
    DisjointSets sides(frame.parts.size());
    for (std::size_t other = 0; other < frame.joints.size(); ++other) {
      const model::Joint& made = frame.joints[other];
      if (other != last && upright(frame, made)) static_cast<void>(sides.join(made.male, made.female));
    }
    Move move;
    move.moving = set_of(sides, frame.parts.size(), joint.male);
    move.holding = set_of(sides, frame.parts.size(), joint.female);
    // Undone, the male side leaves against the way in which its end points.
    const model::Port& end = frame.part(joint.male).ports[at(joint.male_port)];
    move.travel = end.facing.unit() * -joint.engaged;
    least = std::min(least, headroom_missing(frame, effort, column, move));
  }
  return least;
}

}  // namespace

std::optional<double> no_way_in(const model::Frame& frame, const Effort& effort) {
  const std::optional<double> room = height_of_room(frame);
  if (!room) return std::nullopt;
  DisjointSets columns(frame.parts.size());
  for (const model::Joint& joint : frame.joints) {
    if (upright(frame, joint)) static_cast<void>(columns.join(joint.male, joint.female));
  }
  // What has no headroom for any last joint is made lying, with the boards on it: these are tilted up in one.
  DisjointSets made_lying(frame.parts.size());
  std::vector<std::pair<PartId, double>> lacking;
  for (const std::vector<PartId>& column : sets_of(columns, frame.parts.size())) {
    if (column.size() < 2 || !as_tall_as(effort, column, *room)) continue;
    const double lacks = lacks_standing(frame, effort, column);
    if (lacks <= 0.0) continue;
    lacking.emplace_back(column.front(), lacks);
    for (const PartId part : column) static_cast<void>(made_lying.join(column.front(), part));
  }
  for (const model::Board& board : frame.boards) {
    for (const model::Hole& hole : board.holes) {
      const bool lies = std::any_of(lacking.begin(), lacking.end(),
                                    [&](const auto& one) { return columns.together(one.first, hole.pipe); });
      if (lies && !hole.notch) static_cast<void>(made_lying.join(hole.pipe, board.part));
    }
  }
  std::optional<double> worst;
  for (const auto& [first, lacks] : lacking) {
    if (tilt_of(frame, effort, set_of(made_lying, frame.parts.size(), first)).fits) continue;
    worst = std::max(worst.value_or(0.0), lacks);
  }
  return worst;
}

}  // namespace dryfit::planner
