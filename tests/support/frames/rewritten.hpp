#pragma once
/// The same frame in another text: lines in another order, things under other names.
#include <random>
#include <string>

namespace dryfit::test {

/// Surfaces, runs, boards, clips and all keys in another order; of a board's lists everything but the first of
/// `through` and `rests-on`, which says where the board is measured from.
[[nodiscard]] std::string in_other_lines(const std::string& frame_file, std::mt19937& rng);

/// Every part, board, surface and run under a new name, which sorts otherwise than the old one.
[[nodiscard]] std::string under_other_names(const std::string& frame_file, std::mt19937& rng);

}  // namespace dryfit::test
