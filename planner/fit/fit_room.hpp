#pragma once
/// Room for the turns: what the frame with its turns given has in one place, as rows that keep it apart.
#include <array>
#include <vector>

#include "planner/fit/fit_equations.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::planner {

/// Two bodies, or a body and a surface, that turns may not bring together. What turns do is a shift, so along one
/// direction that parts them the way that is left is gap + sum(a_j t_j), to be nought or less.
struct RoomRow {
  Overlap overlap;                    ///< which parts
  double gap = 0.0;                   ///< as made up: how far one stands in the other beyond what may be, mm; often < 0
  std::vector<TurnTerm> terms;        ///< mm nearer per turn; joints ascending, no zeros
  std::array<double, 3> per_shift{};  ///< mm nearer per mm that the loose root moves along each axis
};

/// Rows for `overlaps` of `after`, which is `frame` with turns given: for each pair of bodies that meet, along the
/// direction in which the least parts them, rather one that parts them as made up. Without those that no turn moves.
[[nodiscard]] std::vector<RoomRow> room_rows(const model::Frame& frame, const Lineage& lineage,
                                             const model::Frame& after, const std::vector<Overlap>& overlaps);

}  // namespace dryfit::planner
