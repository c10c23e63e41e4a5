#pragma once
/// A board that lies flat on a wall, floor or ceiling, screwed to it; and what a board measures where nobody says.
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// What a shelf is made of where nobody says: common practice, no source; 3/4 by 9-1/4 in is a dressed 1 by 10
/// (American Softwood Lumber Standard PS 20, from memory).
struct UsualBoard {
  double thick, deep, past, step, clear, wide;
};
inline constexpr UsualBoard kBoardInches{19.05, 234.95, 50.8, 25.4, 6.35, 609.6};
inline constexpr UsualBoard kBoardMetric{18.0, 235.0, 50.0, 10.0, 5.0, 600.0};

/// Keys of the board that "wall@12,48, size: {x: 30}, stock: oak" says: its lower left corner at that spot of the
/// surface. nullopt where `given` begins with no place. Throws UsageError.
[[nodiscard]] std::optional<std::vector<std::pair<std::string, std::string>>> board_flat_on(const model::Frame& frame,
                                                                                            const std::string& given);

}  // namespace dryfit::cli
