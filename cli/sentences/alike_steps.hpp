#pragma once
/// Steps that are made again with other parts in their places: the second leg of a table, the next rung of a ladder.
/// They are told once, and then by the parts that take their turn.
#include <string>
#include <utility>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// A run of steps that read like an earlier one, but for the names of parts.
struct AlikeSteps {
  std::size_t first = 0;                                     ///< index of the first of them
  std::size_t count = 0;                                     ///< how many steps, 2 or more
  std::size_t like = 0;                                      ///< index of the first of those that are told in full
  std::vector<std::pair<std::string, std::string>> instead;  ///< label here, label there; in the order of the words
};

/// All that is said of a step.
struct ToldStep {
  std::string before;  ///< in front of it: a pose, a heading, something to measure. Only the first of a run may have it
  std::string said;    ///< its words, cautions and remarks
};

/// The runs to be told by what changes, ascending, where they save four steps or more. Each follows the steps it is like, or another run that is like them.
/// One label always stands for the same other one, and different ones for different ones. O(steps * words).
[[nodiscard]] std::vector<AlikeSteps> alike_steps(const model::Frame& frame, const std::vector<ToldStep>& steps);

/// The line for a run: "  12-13. Do steps 10 and 11 again, with C2 for C3 and P2 for P5.", broken and hanging as those
/// of the other steps are. `number` is that of the step with index 0, `digits` the width of the column of numbers.
[[nodiscard]] std::string alike_line(const AlikeSteps& run, int number, std::size_t digits);

}  // namespace dryfit::cli
