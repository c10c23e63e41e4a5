#pragma once
/// Faces of boards with their holes and slots taken out.
#include <vector>

#include "cli/draw/body/piece.hpp"

namespace dryfit::cli {

/// The outline of a flat face of the piece less the openings of its hollows: outer loops counterclockwise, holes
/// clockwise. An opening that reaches the face's edge is carved into the edge, without a hair's breadth left over.
[[nodiscard]] std::vector<std::vector<Vec3>> outline_less_openings(const Piece& piece, const Face& face);

}  // namespace dryfit::cli
