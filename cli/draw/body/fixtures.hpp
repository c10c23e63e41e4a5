#pragma once
/// What holds a frame where it is, as it is drawn: a patch of the floor, a wall or the ceiling where the frame meets
/// it, pipe straps and pipe clips. Widths are those of a drawing, not of any maker's hardware. Lengths in mm.
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// A thin slab of a surface round what meets it. It hides what is behind it from those who stand in the room; those who
/// look from behind see through it.
struct Patch {
  model::Vec3 lo, hi;
  model::Vec3 normal;  ///< into the room, length 1
};

/// A band over a pipe with two feet on the face that it is screwed to: a half circle about the pipe's axis and straight
/// sides down to the face. Where the pipe keeps well off the face, the sides end below the pipe and a stem goes on.
struct Band {
  model::Vec3 at;          ///< on the pipe's axis, halfway along the band
  model::Vec3 along;       ///< the pipe's axis, length 1
  model::Vec3 down;        ///< toward the face, square to `along`, length 1
  double radius = 0.0;     ///< outside, from the pipe's axis
  double depth = 0.0;      ///< from the axis to the face
  double width = 0.0;      ///< along the pipe
  double foot = 0.0;       ///< how far a foot reaches out beside the band
  double thickness = 0.0;  ///< of the feet
  [[nodiscard]] bool on_stem() const { return depth > 1.8 * radius; }
  /// Where the straight sides end, from the axis.
  [[nodiscard]] double sides_to() const { return on_stem() ? radius : depth; }
};

struct Fixture {
  enum class Kind { patch, strap, clip };
  Kind kind = Kind::patch;
  int surface = model::kNone;        ///< patch, clip: index into Frame::surfaces
  std::vector<int> fastenings;       ///< indices into Frame::fastenings: what is screwed on there; strap, clip: one
  std::vector<model::PartId> parts;  ///< patch: what meets it, screwed on or not; strap: board, pipe; clip: pipe
  Patch patch;
  std::vector<Band> bands;  ///< strap, clip: as many as the frame asks for
};

/// All of a frame: patches by surface, then straps and clips in file order. Patches that would overlap are one. A strap
/// or clip whose pipe does not run along its face is left out. O(surfaces * parts).
[[nodiscard]] std::vector<Fixture> fixtures_of(const model::Frame& frame);

/// Those that belong to the parts (ascending): patches and clips of any of them, straps of which both sides are there.
[[nodiscard]] std::vector<int> fixtures_at(const std::vector<Fixture>& fixtures,
                                           const std::vector<model::PartId>& parts);

}  // namespace dryfit::cli
