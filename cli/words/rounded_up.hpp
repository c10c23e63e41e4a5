#pragma once
/// Lengths that have to be there at least: room to tilt something up in, or by how much a room is too low.
#include <string>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// As length_text(), but to the next 1/16 in or whole millimetre above: nobody measures a room to a tenth of a
/// millimetre, and what is rounded down would not be enough.
[[nodiscard]] std::string rounded_up_text(double mm, model::Units units);

}  // namespace dryfit::cli
