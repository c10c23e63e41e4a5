#pragma once
/// Through a door, and moving house: the answer of `order` with --carry or --down.
#include <optional>
#include <string>

#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/streams.hpp"
#include "planner/now/carry.hpp"

namespace dryfit::cli {

/// What is said of door and direction. At least one of `carry` and `down` is given.
struct DoorAsked {
  std::string carry;  ///< as opening_said() reads it; "": no door
  bool down = false;  ///< apart instead of together
  [[nodiscard]] bool any() const { return down || !carry.empty(); }
};

struct DoorAnswer {
  std::optional<planner::Opening> opening;
  bool down = false;
  std::vector<char> built;  ///< with `down`: per contact, what is taken apart
  planner::Carry carry;     ///< without `down`
  planner::TakeDown apart;  ///< with it
  [[nodiscard]] const std::vector<planner::CarriedPiece>& too_large() const {
    return down ? apart.too_large : carry.too_large;
  }
};

/// For a frame that can be built; `finding` has its order. `built` as given_state() reads it, "" for the finished frame;
/// only with `down`. Every move has passed the judge, on the frame as drawn and on the frame as it stands after the
/// turns of its fit. Throws UsageError for a door that is none and a state that cannot be.
[[nodiscard]] DoorAnswer door_answer(const LoadedFrame& loaded, const Finding& finding, const DoorAsked& asked,
                                     const std::string& built, int people, const Streams& streams);

}  // namespace dryfit::cli
