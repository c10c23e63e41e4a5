#pragma once
/// Holes within a millimetre of what they are drawn round: a coupling only just goes through, or only just does not.
#include <random>

#include "tests/support/frames/frame_spec.hpp"

namespace dryfit::test {

/// Whether the frame of a seed is to have such a hole: one in six. Drawn apart from the frame, which stays as it is.
class NearHoles {
 public:
  explicit NearHoles(std::uint32_t seed);
  /// Gives one board with holes or slots, if there is one, a hole near a coupling's width, or now and then near a
  /// pipe's. True when it did.
  bool draw(FrameSpec& spec);

 private:
  std::mt19937 rng_;
  bool wanted_;
};

}  // namespace dryfit::test
