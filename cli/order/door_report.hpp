#pragma once
/// Through a door, in words and as JSON.
#include <iosfwd>

#include "cli/json/json_answer.hpp"
#include "cli/order/door_answer.hpp"

namespace dryfit::cli {

/// Adds `carry` (opening, pieces, what does not fit) and, with steps, `steps` or `undo` with its totals, and `effort`.
void add_door(Json& document, const LoadedFrame& loaded, const Finding& finding, const DoorAnswer& answer);

void print_door(const LoadedFrame& loaded, const Finding& finding, const DoorAnswer& answer, std::ostream& out);

}  // namespace dryfit::cli
