#pragma once
/// What the bench page's view to be turned is drawn from.
#include <string>

#include "cli/cards/deck.hpp"

namespace dryfit::cli {

/// As JSON for the script: {"numbers": as frame_numbers has them, "steps": {"step-3": as card_view has it, ...,
/// "start": {"shown": all, "new": []}}}.
[[nodiscard]] std::string bench_solids(const model::Frame& frame, const Deck& deck);

}  // namespace dryfit::cli
