#pragma once
/// How far a frame is built: all of it, the first steps of an order, or what a steps file says is really done.
#include <memory>
#include <string>
#include <vector>

#include "cli/check/finding.hpp"

#include "cli/input/frame_file.hpp"
#include "cli/io/streams.hpp"

namespace dryfit::cli {

struct Built {
  std::vector<char> made;  ///< per contact
  int steps = -1;          ///< first steps of `order` that are done; -1: all is built, or a file says what is
  /// Contacts of each step of the order that the frame is built by; empty when it was not wanted.
  std::vector<std::vector<planner::ContactId>> order;
  /// About the frame, when no order builds it, so that nothing is known of how it would stand there; `made` is empty
  /// then, unless a file says what is really done. Else null.
  std::shared_ptr<const Finding> never_stood;
};

/// `built`: "" for all, a number of steps, or a steps file. `order_file`: the order that was built by; "": the one that
/// `order` finds. Throws UsageError when a step cannot be done.
[[nodiscard]] Built built_state(const LoadedFrame& design, const std::string& built, const std::string& order_file,
                                bool order_wanted, const Streams& streams);

}  // namespace dryfit::cli
