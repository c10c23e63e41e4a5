#pragma once
/// What the painter handles: convex pieces of parts, with lines on their faces and with the holes of boards in them.
#include <vector>

#include "cli/draw/body/block.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// Something drawn on a face: a line (thread, band, grain, hatching) or a filled spot (bore, screw hole).
struct Mark {
  enum class Kind : std::uint8_t { thread, band, grain, hatch, spot };
  Kind kind = Kind::band;
  std::vector<Vec3> points;   ///< a polyline, or the outline of a spot
  std::vector<Vec3> normals;  ///< lines: of the face under each stretch (one less than points); spots: one
  double spacing = 0.0;       ///< to the next mark of its sort, mm; finer ones are left out on small pictures
};

struct Piece;

/// A drilled hole or an open slot within a board: a convex hollow. Faces with an id are its openings, on the
/// board's face of that id; the others are walls.
struct Hollow {
  Block block;
  std::vector<Piece> contents;  ///< what passes through, cut off at the board's faces
};

struct Piece {
  model::PartId part = model::kNone;  ///< or the number of a fixture, see fixture_pieces.hpp
  Block block;
  std::vector<Mark> marks;
  std::vector<Hollow> hollows;  ///< boards only
  /// Patches of surfaces: into the room, length 1. Whoever looks from the other side sees through. Else zero.
  Vec3 seen_from;
};

/// Both halves with their marks, hollows and contents; see cut(Block). `id` names the new faces.
struct PieceHalves {
  Piece front;
  Piece back;
};
[[nodiscard]] PieceHalves cut(const Piece& piece, const Plane& plane, FaceKind kind, int id);

}  // namespace dryfit::cli
