#pragma once
/// Patches, straps and clips as pieces for the painter.
#include <vector>

#include "cli/draw/body/fixtures.hpp"
#include "cli/draw/body/piece.hpp"

namespace dryfit::cli {

/// The number that stands for a fixture where parts go by their index: fixtures follow the parts.
[[nodiscard]] inline model::PartId number_of(const model::Frame& frame, int fixture) {
  return static_cast<model::PartId>(frame.parts.size()) + fixture;
}

/// Adds the pieces of the fixtures `drawn` (indices into `fixtures`) to those of a frame `extent` mm across, and takes
/// out what of the strapped and clipped pipes lies inside of a band.
void add_fixtures(const model::Frame& frame, const std::vector<Fixture>& fixtures, const std::vector<int>& drawn,
                  double extent, std::vector<Piece>& pieces);

}  // namespace dryfit::cli
