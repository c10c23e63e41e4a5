#pragma once
/// What a page shows of a card in its view that is turned.
#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "cli/cards/deck.hpp"
#include "cli/draw/body/fixtures.hpp"

namespace dryfit::cli {

/// {"shown": [...], "new": [...], "view": {"azimuth_deg", "elevation_deg", "lies": where the frame's own right, back
/// and up point}, "arrow": {"turns", "at_mm", "along_mm"} or null}. Parts and fixtures by their numbers, as
/// frame_numbers() counts them; a patch of floor or wall is never new. Places in mm of the finished frame. `fixtures`:
/// those of the frame. O(shown).
[[nodiscard]] nlohmann::ordered_json card_view(const model::Frame& frame, const std::vector<Fixture>& fixtures,
                                               const Card& card);

}  // namespace dryfit::cli
