#pragma once
/// Designs of a frame and plans to change one into the other.
#include <optional>
#include <random>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "planner/change/change.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace dryfit::tests {

struct Design {
  explicit Design(model::Frame from);
  explicit Design(const std::string& text);  ///< a frame file
  model::Frame frame;
  planner::ContactList list;
  [[nodiscard]] bool buildable() const;
  /// Everything is made.
  [[nodiscard]] std::vector<char> complete() const { return std::vector<char>(list.contacts.size(), 1); }
  /// The ids of contacts.
  [[nodiscard]] std::set<std::string> names(const std::vector<planner::ContactId>& contacts) const;
};

/// The same frame with one pipe of another length, or nothing when that cannot be read or overlaps.
[[nodiscard]] std::optional<model::Frame> with_other_length(const std::string& text, const model::Frame& frame,
                                                            std::mt19937& rng);
/// A random frame and the same with one pipe of another length; nothing unless both can be built.
[[nodiscard]] std::optional<std::pair<Design, Design>> random_change(std::uint32_t seed, test::FrameSize size,
                                                                     std::mt19937& rng);

/// Both halves of a plan by the independent judge: from what is built of the one design to all of the other.
void check_plan(const Design& from, const Design& to, const planner::Matching& match, const std::vector<char>& built,
                const planner::ChangePlan& plan);

}  // namespace dryfit::tests
