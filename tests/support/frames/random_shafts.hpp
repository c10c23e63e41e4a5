#pragma once
/// Small random frames about one upright run and the boards on it: screwed to the wall or resting on a fitting, with
/// holes that hug the pipe, let a coupling pass, or let all but the flange on top pass.
#include <cstdint>
#include <string>

#include "model/frame/frame.hpp"

namespace dryfit::test {

struct RandomShaft {
  std::string text;
  model::Frame frame;
  bool fixed = false;   ///< a board that is screwed to the wall has a hole for a pipe of the run
  bool passes = false;  ///< a hole that lets the coupling pass, and a wider part further along the run
};

/// The frame of a seed: always the same, nothing overlaps.
[[nodiscard]] RandomShaft random_shaft(std::uint32_t seed);

}  // namespace dryfit::test
