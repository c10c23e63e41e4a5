#pragma once
/// A box that turns about a line: how far it reaches, what it meets on the way, and at which angles. Turning is
/// right-handed about `axis` (along an axis of the room) for sense +1, left-handed for -1. Angles in radians, without
/// sign.
#include <numbers>
#include <optional>
#include <vector>

#include "model/geometry/convex.hpp"
#include "planner/judge/replay_scene.hpp"

namespace dryfit::planner::judge {

inline constexpr double kQuarter = std::numbers::pi / 2.0;

/// Bounds of all places that the box takes on the way to `angle`, at most a quarter.
[[nodiscard]] model::Bounds quarter_turn_bounds(const model::Solid& box, model::Vec3 pivot, model::Direction axis,
                                                int sense, double angle = kQuarter);

/// Farthest coordinate along the unit vector `outward` that the box takes on the way. Exact.
[[nodiscard]] double quarter_turn_reach(const model::Solid& box, model::Vec3 pivot, model::Direction axis, int sense,
                                        model::Vec3 outward, double angle = kQuarter);

/// True when the box, somewhere on the way, overlaps `still` by `touch` or more. Certified: a false is exact, since no
/// point of the box moves more than its radius times the angle; a true that is wrong means a gap under 0.05 mm.
[[nodiscard]] bool quarter_turn_hits(const model::Solid& box, model::Vec3 pivot, model::Direction axis, int sense,
                                     const model::Solid& still, double touch, double angle = kQuarter);

/// Angles from `from` to `to`.
struct TurnSpan {
  double from = 0.0;
  double to = 0.0;
};

/// The angles between `from` and `to` at which the box overlaps `still` by `touch` or more, ascending. What is under
/// 0.05 mm of way at the far corner from being clear counts as met.
[[nodiscard]] std::vector<TurnSpan> spans_met(const model::Solid& box, model::Vec3 pivot, model::Direction axis,
                                              int sense, const model::Solid& still, double touch, TurnSpan within);

/// From which angle on the board's outline, less an overlap of `touch`, is clear of the pipe in its slot; nothing when
/// a quarter turn does not free it. Late by at most 0.05 mm.
[[nodiscard]] std::optional<double> slot_left_at(const model::Board& wood, const model::Solid& pipe, model::Vec3 pivot,
                                                 model::Direction axis, int sense, double touch);

}  // namespace dryfit::planner::judge
