#pragma once
/// Small random frames about what boards can do by themselves: laid on carriers of uneven height, drilled and slotted,
/// with slots open to one edge or to several, screwed to a wall or loose, on posts that stand fast or hang loose, under
/// arms and beside stakes that are in the way.
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::test {

/// What of all this a frame has.
struct BenchTraits {
  bool uneven_laid = false;     ///< a laid board whose carriers differ by more than 0.5 mm
  bool uneven_drilled = false;  ///< likewise with holes or slots
  bool hole_and_slot = false;   ///< one board has both
  bool slots_differ = false;    ///< slots of one board are open to different edges
  bool fixed_slots = false;     ///< a board with slots that is screwed to a surface
  bool loose_post = false;      ///< a run with a pipe in a board stands on nothing
  bool near_hole = false;       ///< a hole within a millimetre of a coupling or a pipe
  bool overhead = false;        ///< something hangs over a board
};

struct RandomBench {
  FrameSpec spec;
  std::string text;
  BenchTraits traits;
  model::Frame frame;
};

/// The frame of a seed: always the same. Only carriers of one board may disagree; nothing overlaps otherwise.
[[nodiscard]] RandomBench random_bench(std::uint32_t seed, FrameSize size = {}, Rejects* rejects = nullptr);

}  // namespace dryfit::test
