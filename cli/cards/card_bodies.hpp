#pragma once
/// What a card shows, for a view that is turned: bodies by number.
#include <vector>

#include "cli/cards/deck.hpp"
#include "cli/draw/body/fixtures.hpp"

namespace dryfit::cli {

/// Numbers of parts, and of what fixes them, as frame_numbers() counts them.
struct CardBodies {
  std::vector<int> shown;
  std::vector<int> fresh;  ///< what the step brings; a patch of floor or wall is never new
};

/// `fixtures`: those of the frame. O(shown).
[[nodiscard]] CardBodies bodies_of(const model::Frame& frame, const std::vector<Fixture>& fixtures, const Card& card);

}  // namespace dryfit::cli
