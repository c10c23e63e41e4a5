#pragma once
/// Benches put together by hand for tests: stands of one pipe, a coupling, another pipe and a top, and boards on them.
#include <string>
#include <utility>
#include <vector>

#include "tests/support/frames/frame_spec.hpp"

namespace dryfit::test {

struct Stand {
  std::string number;       ///< parts are F, A, C, B and K with this number
  Vec3 at;                  ///< on the floor
  double lower = 200.0;     ///< pipe from the flange to the coupling, mm
  double upper = 150.0;     ///< pipe on the coupling
  std::string top = "cap";  ///< "cap", "coupling" or nothing
  bool loose = false;       ///< no flange: the pipe hangs where it would stand in one
};

/// An empty bench of 3/4 NPT pipe on a floor at 0.
[[nodiscard]] FrameSpec bench_on_floor(const std::string& name);
void add(FrameSpec& bench, const Stand& stand);
/// A stake with nothing on it, or with an arm from its top.
void add_stake(FrameSpec& bench, const std::string& number, Vec3 at, double height);
void add_arm(FrameSpec& bench, const std::string& number, Vec3 at, double height, Direction way, double length);

struct Plank {
  std::string id = "S";
  std::vector<std::string> through = {};
  std::vector<std::pair<std::string, Direction>> notches = {};
  std::vector<std::string> rests_on = {};
  double left = 100.0, right = 100.0, front = 100.0, back = 100.0;  ///< beyond the stand that it is measured from, mm
  double thickness = 19.0;
  std::vector<std::string> fix = {};
};
void add(FrameSpec& bench, const Plank& plank);

}  // namespace dryfit::test
