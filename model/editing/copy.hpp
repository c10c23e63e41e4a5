#pragma once
/// A run of a frame file written once more for another place, mirrored or turned.
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "model/editing/grow.hpp"
#include "model/geometry/direction.hpp"

namespace dryfit::model {

/// Where the six directions along the axes go: a mirror, a quarter turn, or nothing changed (an empty map).
using Turning = std::map<Direction, Direction>;
[[nodiscard]] Turning mirrored_along(int axis);
/// The turn that brings `from` to `to`, both along an axis; the mirror where they are opposite.
[[nodiscard]] Turning turned_from(Direction from, Direction to);
/// A direction turned so; one at 45 degrees as well.
[[nodiscard]] Direction turned(const Turning& turning, Direction direction);

/// The parts of a run with other names and turned directions; where it begins and ends is for the caller to say. Throws
/// std::invalid_argument when there is no such run, or `names` lacks a part. O(length of the text).
[[nodiscard]] NewRun run_copied(std::string_view text, const std::string& run,
                                const std::map<std::string, std::string>& names, const Turning& turning);
/// A board with other names of parts and turned directions, as `with_board` takes it; nullopt where it names a part
/// that `names` lacks, or says where it is by itself. Throws std::invalid_argument when there is no such board.
[[nodiscard]] std::optional<std::vector<std::pair<std::string, std::string>>> board_copied(
    std::string_view text, const std::string& board, const std::map<std::string, std::string>& names,
    const Turning& turning);
/// Names of a run's parts, in walking order; with their kinds.
[[nodiscard]] std::vector<NewPart> parts_of_run(std::string_view text, const std::string& run);
/// What a run says of itself under a key: "from", "go", "to"; "" where it does not.
[[nodiscard]] std::string said_of_run(std::string_view text, const std::string& run, const std::string& key);

}  // namespace dryfit::model
