#pragma once
/// Small frames whose traps can be told by hand.
#include <string>

namespace dryfit::tests {

/// A plant rack that stands free: two posts, one rail over the top, `boards` boards (1 or 2) each between two couplings
/// or a coupling and an elbow of both posts. It can be built from below or from above.
[[nodiscard]] std::string free_rack_text(int boards);

/// A trestle on the floor: two posts on flanges, a rail between tees near the floor, a board over the tees with the
/// posts through it, caps on top. The rail closes a ring over the floor.
[[nodiscard]] std::string trestle_text();

/// A square of four pipes and four elbows, lying on nothing. With a union in one side it can be built.
[[nodiscard]] std::string square_text(bool with_union);

/// A post with a table top: a board laid on a flange, another laid on that board.
[[nodiscard]] std::string stack_text();

}  // namespace dryfit::tests
