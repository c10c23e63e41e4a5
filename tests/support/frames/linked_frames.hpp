#pragma once
/// Frames with rings that hold each other, and such as only look like it. The truth stands beside each.
#include <random>
#include <string>
#include <vector>

namespace dryfit::test {

struct LinkedFrame {
  std::string name;  ///< what a fitter sees
  bool linked = false;
  bool loose_in_the_end = false;  ///< nothing joins the two in the finished frame
  std::string text;
};

/// The first is a hoop round a pole from floor to ceiling that nothing joins.
[[nodiscard]] std::vector<LinkedFrame> linked_frames();

/// A ring with a union, level or upright, somewhere about a pole or another ring: round a part of it, beside it, or in
/// one place with it. The text of a frame; bodies may overlap.
[[nodiscard]] std::string random_linked_text(std::mt19937& rng);

}  // namespace dryfit::test
