#pragma once
/// Small random frames, whole and readable, many of them impossible to build: posts with rails and captive boards,
/// rings and ladders with and without a union, branching trees, arms between flanges on a wall, tables on flanges.
#include <optional>
#include <random>
#include <string>

#include "tests/support/frames/frame_spec.hpp"

namespace dryfit::test {

struct RandomFrame {
  FrameSpec spec;
  std::string text;    ///< YAML
  std::string family;  ///< "posts", "ring", "ladder", "tree", "arm", "table", "pole"
  bool near_hole = false;  ///< a hole within a millimetre of a coupling or a pipe
  model::Frame frame;  ///< `text` as the reader takes it
};

struct FrameSize {
  int least_contacts = 3;
  int most_contacts = 16;
};

/// Counts of what was thrown away on the way, for tests that want to know that the generator is not starving.
struct Rejects {
  int unreadable = 0;
  int wrong_size = 0;
  int overlapping = 0;
  std::string last_fault;  ///< what the reader said last
};

/// The frame of a seed: always the same. Draws until a frame reads, is of the size asked for, and has no two bodies in
/// one place and no wide closure.
[[nodiscard]] RandomFrame random_frame(std::uint32_t seed, FrameSize size = {}, Rejects* rejects = nullptr);

/// How many contacts a frame has.
[[nodiscard]] int contact_count(const model::Frame& frame);

}  // namespace dryfit::test
