#pragma once
/// Small random frames about one rod with open ends or unions that goes through boards on the wall: halves of it hang
/// in the boards' holes, end to end with what is turned, over a floor or under a ceiling that is near or far.
#include <cstdint>
#include <string>

#include "model/frame/frame.hpp"

namespace dryfit::test {

struct RandomRod {
  std::string text;
  model::Frame frame;
  bool standing = false;  ///< goes up from the floor; otherwise down from the ceiling
  bool near = false;      ///< what is at its far end leaves it less room than a thread is long
};

/// The frame of a seed: always the same, nothing overlaps.
[[nodiscard]] RandomRod random_rod(std::uint32_t seed);

}  // namespace dryfit::test
