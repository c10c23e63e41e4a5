#pragma once
/// Small frames of the same pipe as a large one: what does not depend on the rest is tried there, and soon read.
#include <optional>
#include <string>

#include "cli/edit/ends.hpp"

namespace dryfit::cli {

/// A frame of one run from the origin, in mm, of the standard and the make-up of `frame`, its pipe of `size` (an index
/// into nominal_sizes()); `parts` are lines of its list.
[[nodiscard]] std::string one_run(const model::Frame& frame, int size, model::Direction go,
                                  const std::vector<std::string>& parts);

struct EndAlone {
  std::string text;  ///< of a frame
  std::string end;   ///< of it: open, as the one that it was made after
};
/// An open end of that size, gender and direction; nullopt where none can be made of a pipe, or a pipe and a coupling.
[[nodiscard]] std::optional<EndAlone> end_alone(const model::Frame& frame, const model::Port& port);

}  // namespace dryfit::cli
