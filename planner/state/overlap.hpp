#pragma once
/// The finished frame is checked first: two bodies in one place are an error of the design.
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// Bodies that share more than this in the finished frame are in one place, mm: a millimetre, and a hair, so that what is
/// drawn a millimetre deep is the same however the frame stands in the room.
inline constexpr double kOverlap = 1.0 + 1e-6;

struct Overlap {
  PartId a = model::kNone;
  PartId b = model::kNone;  ///< kNone: behind a surface
  int surface = model::kNone;
};

/// Pairs of parts without a contact whose bodies overlap by more than 1 mm, and parts that reach more than 1 mm
/// behind a surface, ascending. What lies on the line of a board's hole and is narrower than it does not overlap the
/// board. Two parts made up in one fitting (pipe ends that meet inside of a coupling) count like any other pair.
/// O(n log n).
[[nodiscard]] std::vector<Overlap> overlaps_of(const model::Frame& frame, const ContactList& list);

/// How far two parts, or a part and a surface, are in one another: moved by `depth` against `too_far`, the first would
/// touch and no more. The shortest way of six, of a board that lies on something first those in its plane; by bounds, so
/// that what is round may need less.
struct OverlapExtent {
  double depth = 0.0;         ///< mm
  model::Direction too_far;   ///< the first part lies too far that way
};
[[nodiscard]] OverlapExtent extent_of(const model::Frame& frame, const Overlap& overlap);

}  // namespace dryfit::planner
