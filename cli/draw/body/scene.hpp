#pragma once
/// From a frame to pieces that a painter can lay over one another.
#include "cli/draw/body/fixtures.hpp"
#include "cli/draw/body/piece.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// Pieces of the shown parts (every one once, ascending; see rods_of for what is left out). Pieces do not overlap,
/// except where the frame's own parts do; pipes are cut at the faces of the boards that they pass through, and the
/// stretch inside lies in the board's hollow.
[[nodiscard]] std::vector<Piece> pieces_of(const model::Frame& frame, const std::vector<model::PartId>& shown);

/// With the fixtures `drawn` (indices into `fixtures`); pieces of fixture i are those of "part" parts + i.
[[nodiscard]] std::vector<Piece> pieces_of(const model::Frame& frame, const std::vector<model::PartId>& shown,
                                           const std::vector<Fixture>& fixtures, const std::vector<int>& drawn);

}  // namespace dryfit::cli
