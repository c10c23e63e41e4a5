#pragma once
/// A frame as numbers for a program that draws it itself, such as the pages whose view is turned by hand.
#include <nlohmann/json_fwd.hpp>

#include "planner/state/contacts.hpp"

namespace dryfit::cli {

/// {"units", "parts": [{"label", "id", "kind", "size", "line", "bodies", "free_ends"}], "fixtures": [{"kind",
/// "bodies"}], "contacts": [{"contact", "between"}]}. A body is [ax, ay, az, bx, by, bz] of a box or, with a radius
/// behind them, of a cylinder; the box of a patch of floor or wall is flat. Lengths in mm, to a tenth. Fixtures are
/// numbered on from the parts wherever things go by number. `between`: numbers of parts, -1 for the room.
[[nodiscard]] nlohmann::ordered_json frame_numbers(const model::Frame& frame, const planner::ContactList& contacts);

}  // namespace dryfit::cli
