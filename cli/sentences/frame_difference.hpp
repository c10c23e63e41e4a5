#pragma once
/// What is different between two states of one design, in a few words.
#include <string>
#include <vector>

#include "cli/words/lengths.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// "P3 is 26 in, was 24 in", "T2 is new", "N1 is gone", "T1 is turned", "4 parts are moved": by label, in the order of
/// the new frame, what is gone before and what is only moved at the end. Empty when nothing is different. O(n log n).
[[nodiscard]] std::vector<std::string> differences(const model::Frame& before, const model::Frame& now,
                                                   const Lengths& lengths);

}  // namespace dryfit::cli
