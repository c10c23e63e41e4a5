#pragma once
/// A deck of cards as data, for a page or a program that lays it out itself.
#include <nlohmann/json_fwd.hpp>

#include "cli/cards/deck.hpp"
#include "planner/state/step.hpp"

namespace dryfit::cli {

/// All words of the deck, the frame as numbers (see frame_numbers.hpp), and for each card which parts are shown and
/// which are new and which contacts of `steps` it makes. With `pictures` each card has its picture as an SVG, and so
/// has the whole frame. `schemas/deck.json` describes it.
[[nodiscard]] nlohmann::ordered_json deck_data(const LoadedFrame& loaded, const Deck& deck,
                                               const std::vector<planner::Step>& steps, bool pictures);

}  // namespace dryfit::cli
