#pragma once
/// A board put into a frame, with what was not said filled in from what it goes over and rests on.
#include <string>

#include "cli/edit/ends.hpp"

namespace dryfit::cli {

/// `given` is what is said of it, as the file would hold it: "through: [P3, P8]", "rests-on: [R1, R2], size: {y: 12}".
/// Filled in: `rests-on` (fittings right below the pipes it is drilled for), `size` and `reach` (past the outer pipes
/// on all sides, 9-1/4 in or 235 mm deep where one row carries it, its back at a wall that is near), 3/4 in or 18 mm
/// thick. Holes are left to the reader, who drills for the pipe. "wall@12,48, size: {x: 30}" is a board flat on a
/// surface, screwed to it, its lower left corner at that spot; 24 in or 600 mm wide. Throws UsageError.
[[nodiscard]] EditMade board_put_in(const std::string& text, const std::string& name, const std::string& given);

/// A board screwed to a surface ("S1=wall"). A wall, floor or ceiling that the file lacks is put where the board's edge
/// or face is. Throws UsageError or std::invalid_argument.
[[nodiscard]] std::string board_fixed(const std::string& text, const std::string& name, const std::string& given);

}  // namespace dryfit::cli
