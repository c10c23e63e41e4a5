#pragma once
/// Some places on a line, chosen so that the stretches between them are about even and cost little. Knows no frame.
#include <cstddef>
#include <optional>
#include <vector>

namespace dryfit::planner {

struct EvenPlace {
  double at = 0.0;  ///< from the beginning
  int cost = 0;
};

/// Indices, ascending, of `count` of the places (1 or more; they are in order along a line from 0 to `end`), such that
/// no stretch is longer than one and a half times the least that the longest can be with so many; of such choices the
/// one of least cost in all, of these the one with the shortest longest stretch, of these the first. Nothing when there
/// are fewer places. O(count * places^2).
[[nodiscard]] std::optional<std::vector<std::size_t>> even_choice(const std::vector<EvenPlace>& places, double end,
                                                                  int count);

}  // namespace dryfit::planner
