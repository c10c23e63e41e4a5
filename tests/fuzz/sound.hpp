#pragma once
/// What must hold of every answer of the reader and the planner, whatever the input.
#include <set>
#include <string>
#include <string_view>

#include "model/frame/frame.hpp"
#include "planner/order/order.hpp"

namespace dryfit::fuzz {

/// The frame, the contacts and the order; contact ids sorted.
struct Answer {
  bool overlaps = false;
  bool buildable = false;
  std::set<std::string> knot;
};

/// "" when each fault says something and points into the text (line 0: at the file as a whole).
[[nodiscard]] std::string faults_are_sound(const model::InputError& error, std::string_view text);

/// Plans a frame that was read. "" when every coordinate is finite, the order makes each contact once and replays, or
/// the knot is not empty. Fills `answer`.
[[nodiscard]] std::string frame_is_sound(const model::Frame& frame, Answer& answer);

}  // namespace dryfit::fuzz
