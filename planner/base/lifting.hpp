#pragma once
/// How many people a lift takes: the one rule that every answer goes by.
///
/// One person may lift the load constant of the revised NIOSH lifting equation, 23 kg, times its horizontal multiplier
/// 25 cm / H (NIOSH Publication 94-110, revised September 2021, read on pages that reproduce it). H is how far in
/// front of the ankles the middle of the load is held: 20 cm and half of its width from front to back, at least 25 cm;
/// beyond 63 cm the equation allows nothing (both from memory). A load is held as it goes on, from one of its longer
/// sides, so the width is the shorter of its two level extents. Several people stand round it, each with an edge of it
/// close to the body, and share it evenly: 23 kg each; what weighs no more than 3 kg is held in one hand, however wide
/// it is (both common practice, no source).
///
/// Worked example: a top of 59 lb (26.8 kg), 28 in deep. Its middle is 20 + 35.6 = 55.6 cm out, so one person may lift
/// 23 * 25 / 55.6 = 10.3 kg (23 lb) of it. Two people have 13.4 kg each, held close: two are enough.
#include "model/frame/frame.hpp"

namespace dryfit::planner {

/// What is lifted, and how many people that takes.
struct Lift {
  double mass = 0.0;        ///< kg; 0: nothing is lifted
  double held_out = 250.0;  ///< H, mm: where one person would hold its middle
  double limit = 23.0;      ///< kg that one person may lift so
  int people = 1;
};

/// H in mm for a load of this width from front to back, mm.
[[nodiscard]] double held_out(double width);
/// What one person may lift that is held so far out, kg.
[[nodiscard]] double one_person_limit(double held_out);
/// The least bounds of a part's bodies.
[[nodiscard]] model::Bounds bounds_of_part(const model::Part& part);
/// The lift of a load of that mass and these bounds.
[[nodiscard]] Lift lift_of(double mass, const model::Bounds& bounds);
/// Of one part.
[[nodiscard]] Lift lift_of(const model::Part& part);
/// The farthest point of a turning side from the axis that one person guides alone, mm: `arm-length` of effort.csv.
[[nodiscard]] double arm_length();

}  // namespace dryfit::planner
