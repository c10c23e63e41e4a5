#pragma once
/// The fit of a frame as it is, without looking for cures.
#include <string>

#include "model/placing/reader.hpp"
#include "planner/fit/fit.hpp"

namespace dryfit::tests {

[[nodiscard]] inline model::Frame read_frame_text(const std::string& text) {
  return model::read_frame(text, "frame.yaml");
}

/// `room`: whether turns have to keep clear of walls and other parts.
[[nodiscard]] inline planner::Fit plain_fit(const model::Frame& frame, bool room = true) {
  planner::FitOptions options;
  options.cures = false;
  options.room = room;
  return planner::find_fit(frame, options);
}

}  // namespace dryfit::tests
