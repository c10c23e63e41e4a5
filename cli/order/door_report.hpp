#pragma once
/// Through a door, in words and as JSON.
#include <iosfwd>

#include "cli/json/json_answer.hpp"
#include "cli/order/door_answer.hpp"

namespace dryfit::cli {

/// Adds `carry` (opening, pieces, what does not fit); where it fits `effort`, `steps` unless it is taken down, and with
/// --down or --built `built` and `undo` with its totals.
void add_door(Json& document, const LoadedFrame& loaded, const Finding& finding, const DoorAnswer& answer);

void print_door(const LoadedFrame& loaded, const Finding& finding, const DoorAnswer& answer, std::ostream& out);

}  // namespace dryfit::cli
