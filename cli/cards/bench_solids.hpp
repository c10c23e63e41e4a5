#pragma once
/// What the bench page's view to be turned is drawn from.
#include <string>

#include "cli/cards/deck.hpp"

namespace dryfit::cli {

/// The frame's bodies as JSON for the script, in whole tenths of a millimetre:
/// {"parts": [[kind, body, ...], ...], "steps": {"step-3": [[shown parts], [new parts]], ..., "start": ...}}; kind 0
/// pipe, 1 fitting, 2 board, 3 a patch of floor or wall, 4 strap or clip, the last two after all parts; a body is
/// [ax, ay, az, bx, by, bz, radius] of a cylinder or [ax, ay, az, bx, by, bz] of a box. The box of a patch is flat.
[[nodiscard]] std::string bench_solids(const model::Frame& frame, const Deck& deck);

}  // namespace dryfit::cli
