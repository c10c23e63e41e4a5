#pragma once
/// Frames of known shape and any size, as format 1 text, for benchmarks and large tests.
#include <string>

namespace dryfit::tests {

/// A row of two-post racks joined by rails near the floor, each with `levels` boards trapped between couplings.
/// Buildable. About 5 * levels + 18 parts a unit.
[[nodiscard]] std::string rack_text(int units, int levels);
/// The number of units that makes a rack of at least `parts` parts with eight levels.
[[nodiscard]] int units_for(int parts);

/// One straight post of `joints` pipes and couplings on a floor flange. Buildable.
[[nodiscard]] std::string tower_text(int joints);

/// Two stiles with `rungs` rungs. With unions in the rungs it is buildable, without (two rungs or more) locked.
[[nodiscard]] std::string ladder_text(int rungs, bool unions);

/// `columns` x `rows` square rings in a plane, crosses at the corners, a union in every bar. Buildable.
[[nodiscard]] std::string grid_text(int columns, int rows);

/// A wall of `posts` posts on the floor with `rungs` rungs between each two, 20 in apart. One pipe in five is an eighth or
/// a quarter of an inch off what all others are, so most rungs want turning and some cannot be closed.
[[nodiscard]] std::string mistaken_text(int posts, int rungs);

}  // namespace dryfit::tests
